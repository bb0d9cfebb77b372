import { allSteps, forSteps, HOT_PHASES, type LintRule } from "./rule.ts";

export const awayWhileCharged: LintRule = {
  id: "away-while-charged",
  number: "L8",
  severity: "E",
  title: "No step is done at the stand between first pressure and bottle shown empty",
  source: "HSE GS4 para 6 (read); Water Rocket Safety Code §§4, 6 (read)",
  deviation: "none",
  check: (procedure) =>
    forSteps(
      allSteps(procedure),
      (step, { phase }) => HOT_PHASES.includes(phase) && step.place === "stand",
      ({ where, phase }) => ({
        where: `${where}.place`,
        detail: `somebody stands at the stand while ${phase}`,
        remedy: "Do it from the charging post or the line, or while cold.",
      }),
    ),
};
