import { allSteps, type LintRule } from "./rule.ts";

export const gaugeMidThird: LintRule = {
  id: "gauge-mid-third",
  number: "L15",
  severity: "W",
  title: "The set pressure is read in the middle third of its gauge",
  source: "SLAC ES&H manual ch. 14 (read)",
  deviation: "may be accepted",
  check: (procedure, rig) =>
    allSteps(procedure).flatMap(({ step, where }) => {
      const { form } = step;
      const gauge =
        form.kind === "measure" ? rig?.gauges.find(({ id }) => id === form.instrument) : undefined;
      if (!rig || !gauge || !step.proves.includes("at-pressure")) return [];
      const { min, max } = gauge.range_Pa;
      const share = (rig.pressure.set_Pa - min) / (max - min);
      return share >= 1 / 3 && share <= 2 / 3
        ? []
        : [
            {
              where: `${where}.form.instrument`,
              detail: `the set pressure stands at ${Math.round(share * 100)} % of "${gauge.id}"`,
              remedy: "Fit a gauge that reads about twice the set pressure.",
            },
          ];
    }),
};
