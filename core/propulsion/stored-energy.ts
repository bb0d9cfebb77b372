import { heatCapacityRatio } from "./constants.ts";

export type GasCharge = {
  /** Absolute. */
  readonly pressure_Pa: number;
  readonly volume_m3: number;
};

const γ = heatCapacityRatio;

/**
 * Work the air can do expanding without heat to the ambient pressure, less what pushing the
 * atmosphere takes: p0 V0/(γ-1) [1 - (pa/p0)^((γ-1)/γ)] - pa (Vf - V0).
 * @source docs/model.md#energy
 */
export function isentropicAvailable_J(charge: GasCharge, ambient_Pa: number): number {
  const ratio = ambient_Pa / charge.pressure_Pa;
  const atRest_m3 = charge.volume_m3 * ratio ** (-1 / γ);
  const inner_J = (charge.pressure_Pa * charge.volume_m3 * (1 - ratio ** ((γ - 1) / γ))) / (γ - 1);
  return inner_J - ambient_Pa * (atRest_m3 - charge.volume_m3);
}

/** The same at constant temperature, heat let in: p0 V0 [ln(p0/pa) - 1 + pa/p0]. The most any process gives. */
export function isothermalAvailable_J(charge: GasCharge, ambient_Pa: number): number {
  const ratio = ambient_Pa / charge.pressure_Pa;
  return charge.pressure_Pa * charge.volume_m3 * (-Math.log(ratio) - 1 + ratio);
}

/** Brode: pg V0/(γ-1), the energy put in at constant volume; an upper measure used for blast. */
export function brode_J(charge: GasCharge, ambient_Pa: number): number {
  return ((charge.pressure_Pa - ambient_Pa) * charge.volume_m3) / (γ - 1);
}

/** The text whose formulas these are; a later edition may differ, so it goes wherever they are shown. */
export const pneumaticTestEdition = "ASME PCC-2-2008, article 5.1";

/** P_a of the text, absolute, whatever the site. */
const textAmbient_Pa = 101_000;
/** J/kg of TNT, as in the text. */
const tntEnergy_J_kg = 4_266_920;
const leastDistance_m = 30;
/** m/kg^(1/3) */
const scaledDistance = 20;

/**
 * Stored energy of a pneumatic test: 2.5 P_at V [1 - (P_a/P_at)^0.286]. 0 where the charge is
 * below the text's own ambient, at a high site and a low pressure: the formula says nothing there.
 * @source ASME PCC-2-2008 art. 5.1, as given in PHYSICS.md section 12
 */
export function pneumaticTestEnergy_J(charge: GasCharge): number {
  if (charge.pressure_Pa <= textAmbient_Pa) return 0;
  return 2.5 * charge.pressure_Pa * charge.volume_m3 * (1 - (textAmbient_Pa / charge.pressure_Pa) ** 0.286);
}

export const tnt_kg = (energy_J: number) => energy_J / tntEnergy_J_kg;

/** R = max(30 m, 20 TNT^(1/3)): blast only, neither fragments nor the jet. */
export const pneumaticTestDistance_m = (mass_kg: number) =>
  Math.max(leastDistance_m, scaledDistance * Math.cbrt(mass_kg));
