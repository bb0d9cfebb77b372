import { isCritical } from "../procedure.ts";
import { allSteps, forSteps, HOT_PHASES, type LintRule } from "./rule.ts";

export const criticalNeverSkippable: LintRule = {
  id: "critical-never-skippable",
  number: "L6",
  severity: "E",
  title: "Critical steps, and all steps while pressure is possible, cannot be skipped",
  source: "NASA CR-177549 App. A (15) (quoted); Cureus 15(4):e37244 (quoted): a free exit gets used",
  deviation: "none",
  check: (procedure) =>
    forSteps(
      allSteps(procedure),
      (step, { phase }) => step.skippable && (isCritical(step) || HOT_PHASES.includes(phase)),
      ({ where, step, phase }) => ({
        where: `${where}.skippable`,
        detail: isCritical(step)
          ? `it proves ${step.proves.join(", ")}`
          : `pressure is possible while ${phase}`,
        remedy: 'Write "skippable": false.',
      }),
    ),
};
