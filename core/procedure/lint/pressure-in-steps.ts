import { type LintRule, stepsIn } from "./rule.ts";

export const pressureInSteps: LintRule = {
  id: "pressure-in-steps",
  number: "L16",
  severity: "W",
  title: "Pressure is raised in at least two steps, with a hold and a look from outside",
  source: "46 CFR 54.10-15(d) (read)",
  deviation: "may be accepted",
  check: (procedure) => {
    const steps = stepsIn(procedure, "charging");
    const full = steps.findIndex(({ step }) => step.proves.includes("at-pressure"));
    const stop = steps
      .slice(0, Math.max(full, 0))
      .some(
        ({ step }) => step.hold !== undefined && (step.form.kind === "look" || step.form.kind === "measure"),
      );
    return stop
      ? []
      : [
          {
            where: "phases.charging",
            detail: "the set pressure is reached without a stop on the way",
            remedy: "Add a look with a hold at half pressure.",
          },
        ];
  },
};
