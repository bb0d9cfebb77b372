import type { FactId } from "../../sequence/facts.ts";
import type { Step } from "../procedure.ts";
import { allSteps, type LintRule } from "./rule.ts";

const LOOKS: readonly FactId[] = ["first-look", "second-look"];
const lookOfRound = (round: 1 | 2): FactId => (round === 1 ? "first-look" : "second-look");

const fault = (step: Step): string | undefined => {
  const proved = step.proves.filter((id) => LOOKS.includes(id));
  if (step.form.kind !== "each-restraint")
    return proved.length > 0 ? `"${proved.join(", ")}" stands for all restraints in one answer` : undefined;
  const wanted = lookOfRound(step.form.round);
  return step.proves.length === 1 && step.proves[0] === wanted
    ? undefined
    : `round ${step.form.round} proves "${wanted}" and nothing else`;
};

export const restraintsOneByOne: LintRule = {
  id: "restraints-one-by-one",
  number: "L4",
  severity: "E",
  title: "Restraints are answered one by one, each by its mark",
  source: "NASA CR-177549 App. A (7) (quoted); DOE-STD-1036-93 (read)",
  deviation: "none",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step, where }) => {
      const detail = fault(step);
      return detail === undefined
        ? []
        : [
            {
              where: `${where}.form`,
              detail,
              remedy: 'Use the form "each-restraint": round 1 proves first-look, round 2 proves second-look.',
            },
          ];
    }),
};
