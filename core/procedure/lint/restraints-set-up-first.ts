import { type LintRule, stepsIn } from "./rule.ts";

export const restraintsSetUpFirst: LintRule = {
  id: "restraints-set-up-first",
  number: "L40",
  severity: "W",
  title: "Restraints are closed in a step of their own before they are looked at",
  source: "NASA CR-177549 §3.1.4 (quoted): set up first, then check, keeps two kinds of redundancy",
  deviation: "may be accepted",
  check: (procedure) => {
    const steps = stepsIn(procedure, "restraining");
    const looks = steps.findIndex(({ step }) => step.form.kind === "each-restraint");
    const closing = steps.findIndex(({ step }) => step.form.kind === "act");
    return looks < 0 || (closing >= 0 && closing < looks)
      ? []
      : [
          {
            where: `phases.restraining[${looks}]`,
            detail: "no act closes the restraints before the first look",
            remedy: "Add a step before it: press every restraint home.",
          },
        ];
  },
};
