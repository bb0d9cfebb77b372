import { findStep } from "../procedure/procedure.ts";
import { readingValue } from "../record/reading-value.ts";
import type { RunFile } from "./run-file.ts";

/**
 * A run's own conditions in the keys of S.json: what was weighed and read in its log, the rig for the
 * rest. What the log does not know is left out, so that reading the setup says what is missing; what
 * was read after the release is not what the shot went by.
 * @returns plain JSON for `parseSetup`
 */
export const setupOfRun = ({
  rig,
  procedure,
  entries,
}: Pick<RunFile, "rig" | "procedure" | "entries">): Readonly<Record<string, unknown>> => {
  const read: { water_kg?: number; setPressure_Pa?: number; waterTemperature_C?: number } = {};
  for (const { event } of entries) {
    if (event.type === "released" || event.type === "nothing-happened") break;
    if (event.type !== "step-done" || event.reading === undefined) continue;
    const step = findStep(procedure, event.step)?.step;
    if (step?.form.kind !== "measure") continue;
    const value = readingValue(event.reading, step.form.quantity);
    if (!value.ok) continue;
    if (step.proves.includes("water-measured")) read.water_kg = value.value;
    if (step.proves.includes("at-pressure")) read.setPressure_Pa = value.value;
    if (step.form.quantity === "temperature") read.waterTemperature_C = value.value;
  }
  const { bottle, opening, ridingMass_kg, channels, calibratedTogether } = rig;
  return {
    ...read,
    bottleVolume_m3: bottle.capacity_m3,
    ...(bottle.diameter_m !== undefined && { bottleDiameter_m: bottle.diameter_m }),
    openingDiameter_m: opening.diameter_m,
    ...(opening.neckLength_m !== undefined && { neckLength_m: opening.neckLength_m }),
    ridingMass_kg,
    calibratedTogether,
    channels: channels.map(({ column, unit, sign, dischargeTime_s, sensitivityRelU }) => ({
      column,
      unit,
      sign,
      dischargeTime_s,
      sensitivityRelU,
    })),
  };
};
