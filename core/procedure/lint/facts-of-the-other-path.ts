import { FACTS, factRow } from "../../sequence/facts.ts";
import { allSteps, type LintRule } from "./rule.ts";

export const factsOfTheOtherPath: LintRule = {
  id: "facts-of-the-other-path",
  number: "L38",
  severity: "N",
  title: "A fact of the other emptying path shows nothing on this rig",
  source: "derived from the rig's emptying path",
  deviation: "none",
  check: (procedure, rig) =>
    allSteps(procedure).flatMap(({ step, where }) =>
      step.proves
        .map((id) => factRow(FACTS, id))
        .filter((row) => rig !== undefined && row?.onlyFor !== undefined && row.onlyFor !== rig.emptying.kind)
        .map((row) => ({
          where: `${where}.proves`,
          detail: `"${row?.id}" counts on a rig emptied by ${row?.onlyFor}; this one is emptied by ${rig?.emptying.kind}`,
          remedy: "Take it out, or keep the step without it.",
        })),
    ),
};
