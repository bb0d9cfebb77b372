import { RIG_NUMBERS } from "../procedure.ts";
import { allSteps, type Finding, type LintRule } from "./rule.ts";

const KNOWN = ["run", ...RIG_NUMBERS];
const BRACES = /\{([^{}]*)\}/g;

const textsIn = (value: unknown): readonly string[] => {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(textsIn) : [];
};

/** With the rig its numbers have been put in, and only the run's code is still to come. */
export const numbersLeftOpen: LintRule = {
  id: "numbers-left-open",
  number: "L45",
  severity: "E",
  title: "Braces hold run, water or pressure, and no number is open once the rig is known",
  source: "derived: a crew cannot act on a number that is not there",
  deviation: "none",
  check: (procedure, rig) =>
    allSteps(procedure).flatMap(({ step, where }): readonly Finding[] => {
      const known = rig ? ["run"] : KNOWN;
      const named = textsIn(step).flatMap((text) => [...text.matchAll(BRACES)].map(([, name = ""]) => name));
      const strange = named.filter((name) => !known.includes(name));
      const findings: Finding[] = strange.map((name) => ({
        where,
        detail: `nothing will stand for {${name}}`,
        remedy: `Write one of: ${KNOWN.map((each) => `{${each}}`).join(", ")}.`,
      }));
      if (rig && step.form.kind === "measure" && step.form.band.of !== undefined)
        findings.push({
          where: `${where}.form.band`,
          detail: `the rig's ${step.form.band.of} was not put in`,
          remedy: "Start the run from the start page, which puts it in.",
        });
      return findings;
    }),
};
