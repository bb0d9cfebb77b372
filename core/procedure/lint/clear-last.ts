import { type LintRule, provers } from "./rule.ts";

export const clearLast: LintRule = {
  id: "clear-last",
  number: "L19",
  severity: "W",
  title: "Clear is called in the last step before air and before the zero",
  source: "derived: it goes stale in seconds, and whatever comes after it eats them",
  deviation: "may be accepted",
  check: (procedure) =>
    (["clearing", "armed"] as const).flatMap((phase) =>
      provers(procedure, "clear", phase)
        .filter(({ index }) => index < procedure.phases[phase].length - 1)
        .map(({ where }) => ({
          where,
          detail: `steps of ${phase} come after it`,
          remedy: "Move it to the end of the phase.",
        })),
    ),
};
