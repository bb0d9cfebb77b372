import { FACTS, factRow } from "../../sequence/facts.ts";
import { allSteps, type LintRule } from "./rule.ts";

export const factsAtHome: LintRule = {
  id: "facts-at-home",
  number: "L37",
  severity: "E",
  title: "A step proves a fact only in one of the fact's home phases",
  source: "derived: entering the home phase starts the fact anew, so a proof elsewhere is lost or too early",
  deviation: "none",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step, phase, where }) =>
      step.proves
        .map((id) => factRow(FACTS, id))
        .filter((row) => row !== undefined && !row.home.includes(phase))
        .map((row) => ({
          where: `${where}.proves`,
          detail: `"${row?.id}" cannot be proved while ${phase}`,
          remedy:
            row?.home.length === 0
              ? "No step proves this fact; it follows from a call."
              : `Prove it in: ${row?.home.join(", ")}.`,
        })),
    ),
};
