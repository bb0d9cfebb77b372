import type { LintRule } from "./rule.ts";

export const forThisRig: LintRule = {
  id: "for-this-rig",
  number: "L43",
  severity: "E",
  title: "The procedure is for this rig",
  source: "derived: numbers, gauges and emptying path are the rig's",
  deviation: "none",
  check: (procedure, rig) =>
    rig && procedure.forRig !== rig.id
      ? [
          {
            where: "forRig",
            detail: `it is for "${procedure.forRig}", the rig is "${rig.id}"`,
            remedy: "Take the rig's own procedure, or rewrite this one for it.",
          },
        ]
      : [],
};
