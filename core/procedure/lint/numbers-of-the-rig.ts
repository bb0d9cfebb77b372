import type { Rig } from "../../rig/rig.ts";
import type { Band, Step } from "../procedure.ts";
import { rigBand } from "../rig-numbers.ts";
import { allSteps, type LintRule } from "./rule.ts";

type Allowed = { readonly min?: number; readonly max?: number; readonly what: string };

/** What the rig says of the number that this step measures; undefined where it says nothing. */
const allowedFor = (step: Step, rig: Rig): Allowed | undefined => {
  const { supply, pull } = rig;
  if (step.proves.includes("water-measured")) return { ...rigBand(rig, "water"), what: "the rig's water" };
  if (step.proves.includes("at-pressure") || step.proves.includes("regulator-set"))
    return { ...rigBand(rig, "pressure"), what: "the rig's set pressure" };
  if (step.proves.includes("supply-in-band"))
    return { min: supply.workingMin_Pa, max: supply.workingMax_Pa, what: "the supply's band" };
  if (step.proves.includes("pull-tested")) return { min: pull.force_N, what: "the rig's pull" };
  return undefined;
};

/** Decimal fractions in a file and their sum differ in the last bit: 0.6 + 0.01. */
const SLACK = 1e-9;

const isInside = (band: Band, { min, max }: Allowed): boolean =>
  (min === undefined || (band.min ?? Number.NEGATIVE_INFINITY) >= min * (1 - SLACK)) &&
  (max === undefined || (band.max ?? Number.POSITIVE_INFINITY) <= max * (1 + SLACK));

export const numbersOfTheRig: LintRule = {
  id: "numbers-of-the-rig",
  number: "L41",
  severity: "E",
  title: "Bands may tighten the rig's numbers, never widen them",
  source: "derived: limits are the rig owner's",
  deviation: "may be accepted",
  check: (procedure, rig) =>
    allSteps(procedure).flatMap(({ step, where }) => {
      const allowed = rig && allowedFor(step, rig);
      if (!allowed) return [];
      const said = [allowed.min, allowed.max]
        .filter((end) => end !== undefined)
        .map((end) => Number(end.toPrecision(9)));
      if (step.form.kind !== "measure")
        return [
          {
            where: `${where}.form`,
            detail: `${allowed.what} is not measured`,
            remedy: `Use the form "measure" with a band inside ${said.join(" to ")}.`,
          },
        ];
      return isInside(step.form.band, allowed)
        ? []
        : [
            {
              where: `${where}.form.band`,
              detail: `it accepts ${step.form.band.min ?? "anything"} to ${step.form.band.max ?? "anything"}; ${allowed.what} is ${said.join(" to ")}`,
              remedy: "Keep the band inside the rig's.",
            },
          ];
    }),
};
