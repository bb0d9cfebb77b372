import { isUnitOf } from "../../record/reading-value.ts";
import { allSteps, type Finding, type LintRule } from "./rule.ts";

export const measureReadable: LintRule = {
  id: "measure-readable",
  number: "L42",
  severity: "E",
  title:
    "A reading has a unit of its quantity (water: by weight in kg or g, by vessel in L or mL), a band that is not empty, and a gauge of the rig in its own unit",
  source: "derived: a reading that cannot be taken can never be given",
  deviation: "none",
  check: (procedure, rig) =>
    allSteps(procedure).flatMap(({ step, where }) => {
      const { form } = step;
      if (form.kind !== "measure") return [];
      const findings: Finding[] = [];
      if (!isUnitOf(form.unit, form.quantity))
        findings.push({
          where: `${where}.form.unit`,
          detail: `“${form.unit}” is no unit of ${form.quantity}`,
          remedy:
            "Use kg or g for water that is weighed, L or mL for water that is poured; Pa, kPa, bar, psi; °C; N, kgf, lbf; s, min; or none for a count.",
        });
      if ((form.band.min ?? Number.NEGATIVE_INFINITY) > (form.band.max ?? Number.POSITIVE_INFINITY))
        findings.push({
          where: `${where}.form.band`,
          detail: `the band runs from ${form.band.min} to ${form.band.max}`,
          remedy: "Give the lower end as min, in SI.",
        });
      const gauge = rig?.gauges.find(({ id }) => id === form.instrument);
      if (rig && form.quantity === "pressure" && !gauge)
        findings.push({
          where: `${where}.form.instrument`,
          detail: `the rig has no gauge "${form.instrument}"`,
          remedy: `Name one of: ${rig.gauges.map(({ id }) => id).join(", ")}.`,
        });
      if (gauge && form.quantity === "pressure" && gauge.unit !== form.unit)
        findings.push({
          where: `${where}.form.unit`,
          detail: `"${gauge.id}" is marked in ${gauge.unit}, ${form.unit} is asked for`,
          remedy: `Ask for ${gauge.unit}: nobody should convert at the stand.`,
        });
      return findings;
    }),
};
