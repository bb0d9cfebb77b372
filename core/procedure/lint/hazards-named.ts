import { HAZARDS } from "../hazards.ts";
import { isCritical } from "../procedure.ts";
import { allSteps, type LintRule } from "./rule.ts";

export const hazardsNamed: LintRule = {
  id: "hazards-named",
  number: "L32",
  severity: "W",
  title: "Each hazard is named by a step that prevents it and by one that would show it",
  source: "derived from the hazard table",
  deviation: "may be accepted",
  check: (procedure) => {
    const steps = allSteps(procedure);
    const known = new Set(HAZARDS.map(({ id }) => id));
    const strangers = steps.flatMap(({ step, where }) =>
      step.hazards
        .filter((id) => !known.has(id))
        .map((id) => ({
          where: `${where}.hazards`,
          detail: `there is no hazard "${id}"`,
          remedy: `Use numbers 1 to ${HAZARDS.length} of docs/hazards.md.`,
        })),
    );
    const unnamed = HAZARDS.filter(({ answeredBy }) => answeredBy === "steps").flatMap(({ id, failure }) => {
      const naming = steps.filter(({ step }) => step.hazards.includes(id));
      // A critical step is both: it shows the state, and the gate stays shut without it; so is a hold.
      const prevents = naming.some(
        ({ step }) =>
          step.form.kind === "act" || step.form.kind === "say" || step.hold !== undefined || isCritical(step),
      );
      const shows = naming.some(({ step }) => step.form.kind !== "act" && step.form.kind !== "wait");
      if (prevents && shows) return [];
      const lacking = [prevents ? "" : "prevents it", shows ? "" : "would show it"]
        .filter(Boolean)
        .join(" or ");
      return [
        {
          where: "phases",
          detail: `hazard ${id} (${failure.toLowerCase()}): no step ${lacking}`,
          remedy: "Name it on the step that answers it, or add one.",
        },
      ];
    });
    return [...strangers, ...unnamed];
  },
};
