import type { ShotSetup } from "../exchange/setup-shot.ts";
import { shotOf } from "../propulsion/shot.ts";
import {
  brode_J,
  isentropicAvailable_J,
  isothermalAvailable_J,
  pneumaticTestEnergy_J,
} from "../propulsion/stored-energy.ts";
import { waterPhase } from "../propulsion/water-phase.ts";

export type LedgerStage =
  | "stored-brode"
  | "stored-pcc2"
  | "available-isothermal"
  | "available-isentropic"
  | "work-on-water"
  | "work-of-head"
  | "left-in-air"
  | "jet-predicted"
  | "jet-measured"
  | "least-for-impulse-predicted"
  | "least-for-impulse-measured";

/** What an efficiency may be taken of. Each is named wherever a share is shown. */
export type Denominator = "available-isothermal" | "available-isentropic" | "work-on-water";

export type LedgerRow = {
  readonly stage: LedgerStage;
  readonly energy_J: number;
  readonly share: Readonly<Record<Denominator, number>>;
};

/** From the reduction of the run's record. */
export type MeasuredEnergy = {
  readonly jetEnergy_J: number;
  /** Of the water phase. */
  readonly waterImpulse_Ns: number;
  readonly expelled_kg: number;
};

/**
 * From stored air to jet to thrust, largest store first. `least-for-impulse` is I²/(2 m): what the
 * water would need if all of it left at one speed; the jet has more because its speed falls.
 * @returns rows for which there is a value; measured ones where a measurement is given
 * @source docs/model.md#energy
 */
export function energyLedger(setup: ShotSetup, measured?: MeasuredEnergy): readonly LedgerRow[] {
  const shot = shotOf(setup);
  const water = waterPhase(shot);
  const charge = { pressure_Pa: shot.start_Pa, volume_m3: shot.airVolume_m3 };
  const isothermal_J = isothermalAvailable_J(charge, shot.ambient_Pa);
  const isentropic_J = isentropicAvailable_J(charge, shot.ambient_Pa);
  const work_J = water.workOnWater_J;
  const endVolume_m3 = shot.bottleVolume_m3 - water.left_kg / shot.density_kg_m3;
  const rowOf = (stage: LedgerStage, energy_J: number): LedgerRow => ({
    stage,
    energy_J,
    share: {
      "available-isothermal": energy_J / isothermal_J,
      "available-isentropic": energy_J / isentropic_J,
      "work-on-water": energy_J / work_J,
    },
  });
  const idealJet_J = water.jetEnergy_J * ((1 - shot.areaRatio ** 2) / shot.velocityCoefficient ** 2);
  const rows = [
    rowOf("stored-brode", brode_J(charge, shot.ambient_Pa)),
    rowOf("stored-pcc2", pneumaticTestEnergy_J(charge)),
    rowOf("available-isothermal", isothermal_J),
    rowOf("available-isentropic", isentropic_J),
    rowOf("work-on-water", work_J),
    rowOf("work-of-head", idealJet_J - work_J),
    rowOf("left-in-air", leftInAir_J(water.endPressure_Pa, endVolume_m3, shot.ambient_Pa)),
    rowOf("jet-predicted", water.jetEnergy_J),
    rowOf("least-for-impulse-predicted", leastEnergy_J(water.impulse_Ns, water.expelled_kg)),
  ];
  if (measured === undefined) return rows;
  return [
    ...rows,
    rowOf("jet-measured", measured.jetEnergy_J),
    rowOf("least-for-impulse-measured", leastEnergy_J(measured.waterImpulse_Ns, measured.expelled_kg)),
  ];
}

const leastEnergy_J = (impulse_Ns: number, mass_kg: number) =>
  mass_kg > 0 ? impulse_Ns ** 2 / (2 * mass_kg) : 0;

/** What the air could still do without heat when the water ends; none where it is no denser than outside. */
const leftInAir_J = (pressure_Pa: number, volume_m3: number, ambient_Pa: number) =>
  pressure_Pa > ambient_Pa ? isentropicAvailable_J({ pressure_Pa, volume_m3 }, ambient_Pa) : 0;
