import { FACTS, factRow } from "../../sequence/facts.ts";
import { allSteps, type LintRule, provers } from "./rule.ts";

export const factsInOrder: LintRule = {
  id: "facts-in-order",
  number: "L44",
  severity: "E",
  title: "A fact that rests on another is proved in a later step of the phase",
  source: "derived: what rests on a fact is refused until that fact stands",
  deviation: "none",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step, phase, index, where }) =>
      step.proves.flatMap((id) => {
        const basis = factRow(FACTS, id)?.after;
        const [first] = basis === undefined ? [] : provers(procedure, basis, phase);
        return first === undefined || first.index < index
          ? []
          : [
              {
                where,
                detail: `"${id}" rests on "${basis}", which ${first.where} proves`,
                remedy: `Prove "${basis}" in an earlier step.`,
              },
            ];
      }),
    ),
};
