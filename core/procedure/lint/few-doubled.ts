import { allSteps, type LintRule } from "./rule.ts";

const MOST_DOUBLED = 4;

export const fewDoubled: LintRule = {
  id: "few-doubled",
  number: "L27",
  severity: "W",
  title: `At most ${MOST_DOUBLED} groups are checked by a second person`,
  source: "ISMP (read): independent double checks work where they are few",
  deviation: "may be accepted",
  check: (procedure) =>
    allSteps(procedure)
      .filter(
        ({ step }) =>
          step.hold?.kind === "witness" || (step.form.kind === "each-restraint" && step.form.round === 2),
      )
      .slice(MOST_DOUBLED)
      .map(({ where }) => ({
        where,
        detail: `one more than ${MOST_DOUBLED} doubled checks`,
        remedy: "Keep the second person for what kills.",
      })),
};
