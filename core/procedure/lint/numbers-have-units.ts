import { allSteps, forSteps, type LintRule } from "./rule.ts";

/** A number after a word of measure, with the sentence going on where its unit should be. */
const BARE =
  /\b(?:to|at|of|with|under|over|above|below|about|until)\s+\d+(?:[.,]\d+)?(?=\s*$|[.,;:)](?:\s|$)|\s+(?:and|or|then|until|with|at|on|in|for|by|from|to|the|a)\b)/i;

export const numbersHaveUnits: LintRule = {
  id: "numbers-have-units",
  number: "L24",
  severity: "W",
  title: "A number in a step has its unit",
  source: "DOE-STD-1029-92 (remembered); which unit is the rig's choice",
  deviation: "may be accepted",
  check: (procedure) =>
    forSteps(
      allSteps(procedure),
      ({ text }) => BARE.test(text),
      ({ where, step }) => ({
        where: `${where}.text`,
        detail: `“${BARE.exec(step.text)?.[0] ?? ""}” of what?`,
        remedy: "Write the unit that stands on the gauge.",
      }),
    ),
};
