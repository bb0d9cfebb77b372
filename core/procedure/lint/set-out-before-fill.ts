import { type LintRule, stepsIn } from "./rule.ts";

/** Hazards of standing in the wrong place: the regulator in the splash, people in line. */
const PLACES = ["12", "13"];

export const setOutBeforeFill: LintRule = {
  id: "set-out-before-fill",
  number: "L34",
  severity: "W",
  title: "Places of supply, phone and people are set outside jet and splash before the fill",
  source: "derived from hazards 12 and 13",
  deviation: "may be accepted",
  check: (procedure) =>
    PLACES.filter((id) => !stepsIn(procedure, "preparing").some(({ step }) => step.hazards.includes(id))).map(
      (id) => ({
        where: "phases.preparing",
        detail: `no step names hazard ${id} before the fill`,
        remedy: "Add a step that sets out supply, phone and people outside jet and splash.",
      }),
    ),
};
