import { type LoggedRun, runConditions } from "../record/run-conditions.ts";

/**
 * A run's own shot in the keys of S.json: what was weighed and read in its log, the rig for the rest.
 * What the log does not know is left out, so that reading the setup says what is missing or assumed.
 * @returns plain JSON for `parseSetup`, without channels
 */
export const shotOfRun = (run: LoggedRun): Readonly<Record<string, unknown>> => {
  const { water_kg, setPressure_Pa, waterTemperature_C } = runConditions(run);
  const { bottle, opening, ridingMass_kg } = run.rig;
  return {
    ...(water_kg !== undefined && { water_kg }),
    ...(setPressure_Pa !== undefined && { setPressure_Pa }),
    ...(waterTemperature_C !== undefined && { waterTemperature_C }),
    bottleVolume_m3: bottle.capacity_m3,
    ...(bottle.diameter_m !== undefined && { bottleDiameter_m: bottle.diameter_m }),
    openingDiameter_m: opening.diameter_m,
    ...(opening.neckLength_m !== undefined && { neckLength_m: opening.neckLength_m }),
    ridingMass_kg,
  };
};

/** The same with the rig's force channels. */
export const setupOfRun = (run: LoggedRun): Readonly<Record<string, unknown>> => ({
  ...shotOfRun(run),
  calibratedTogether: run.rig.calibratedTogether,
  channels: run.rig.channels.map(({ column, unit, sign, dischargeTime_s, sensitivityRelU }) => ({
    column,
    unit,
    sign,
    dischargeTime_s,
    sensitivityRelU,
  })),
});
