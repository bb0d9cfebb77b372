import { allSteps, forSteps, type LintRule } from "./rule.ts";

export const holdsComplete: LintRule = {
  id: "holds-complete",
  number: "L28",
  severity: "E",
  title: "A hold says who consents, on what evidence, and what “no” does; nobody consents to their own act",
  source: "10 CFR 50 App. B, criterion X (read)",
  deviation: "may be accepted",
  check: (procedure) =>
    forSteps(
      allSteps(procedure),
      ({ hold, role }) => hold !== undefined && hold.opens === role,
      ({ where, step }) => ({
        where: `${where}.hold.opens`,
        detail: `the ${step.role} does the step and opens its hold`,
        remedy: "Name another role that consents.",
      }),
    ),
};
