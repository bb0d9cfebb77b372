import { assert } from "../assert.ts";
import type { Shot } from "./shot.ts";

/**
 * How far the air can drive the water. The drive D = p - p_a + ρ g H falls as the air volume V
 * grows and is zero at V_*, the volume at rest; V_* may lie beyond the bottle. Written as
 * V = V_* exp(-r²), the drive is p_* (exp(n r²) - 1) + (ρ g/A_s) V_* (1 - exp(-r²)): two terms that
 * are never negative and lose no digits, and the root r replaces the volume as variable.
 */
export type Expansion = {
  /** V_* */
  readonly restVolume_m3: number;
  /** p_* = p_a - ρ g H(V_*) */
  readonly restPressure_Pa: number;
  /** (ρ g/A_s) V_* */
  readonly headScale_Pa: number;
  readonly exponent: number;
  /** r at V0. */
  readonly startRoot: number;
  /** r where the water phase ends: 0 where the drive ends first. */
  readonly endRoot: number;
  /** startRoot - endRoot, without the loss of digits for little water. */
  readonly rootSpan: number;
  /** ln of the final over the initial air volume. */
  readonly logVolumeRatio: number;
  readonly startDrive_Pa: number;
  /** All the water goes; else the drive ends first. */
  readonly emptied: boolean;
  readonly leftVolume_m3: number;
};

export function expansionOf(shot: Shot): Expansion {
  const weight_Pa_m = shot.density_kg_m3 * shot.gravity_m_s2;
  const x = logRestRatio(shot, weight_Pa_m);
  const restVolume_m3 = shot.airVolume_m3 * Math.exp(x);
  const emptyX = Math.log1p(shot.waterVolume_m3 / shot.airVolume_m3);
  const emptied = x >= emptyX;
  const startRoot = Math.sqrt(x);
  const endRoot = emptied ? Math.sqrt(x - emptyX) : 0;
  const startHead_m = shot.headPerVolume_m_m3 * shot.waterVolume_m3 + shot.neckHead_m;
  return {
    restVolume_m3,
    restPressure_Pa: shot.start_Pa * Math.exp(-shot.exponent * x),
    headScale_Pa: weight_Pa_m * shot.headPerVolume_m_m3 * restVolume_m3,
    exponent: shot.exponent,
    startRoot,
    endRoot,
    rootSpan: emptied ? emptyX / (startRoot + endRoot) : startRoot,
    logVolumeRatio: emptied ? emptyX : x,
    startDrive_Pa: shot.start_Pa - shot.ambient_Pa + weight_Pa_m * startHead_m,
    emptied,
    leftVolume_m3: emptied ? 0 : restVolume_m3 * Math.expm1(emptyX - x),
  };
}

/** D at V = V_* exp(-root²). */
export function drive_Pa(expansion: Expansion, root: number): number {
  const square = root * root;
  const air_Pa = expansion.restPressure_Pa * Math.expm1(expansion.exponent * square);
  return expansion.headScale_Pa === 0 ? air_Pa : air_Pa - expansion.headScale_Pa * Math.expm1(-square);
}

/**
 * ln of V_* over V0: closed without head, with it by Newton on a falling function, kept inside the
 * two points that must bound it: where the air is at p_a, and where there is no head.
 */
function logRestRatio(shot: Shot, weight_Pa_m: number): number {
  const { start_Pa, ambient_Pa, exponent, airVolume_m3 } = shot;
  const airAtRest = Math.log(start_Pa / ambient_Pa) / exponent;
  if (shot.headPerVolume_m_m3 === 0) return airAtRest;
  const slope_Pa_m3 = weight_Pa_m * shot.headPerVolume_m_m3;
  const headlessVolume_m3 = shot.bottleVolume_m3 + shot.neckHead_m / shot.headPerVolume_m_m3;
  const headless = Math.log(headlessVolume_m3 / airVolume_m3);
  let low = Math.min(airAtRest, headless);
  let high = Math.max(airAtRest, headless);
  let x = airAtRest;
  for (let step = 0; step < 100; step++) {
    const air_Pa = start_Pa * Math.exp(-exponent * x);
    const volume_m3 = airVolume_m3 * Math.exp(x);
    const excess_Pa = air_Pa - ambient_Pa + slope_Pa_m3 * (headlessVolume_m3 - volume_m3);
    if (excess_Pa > 0) low = x;
    else high = x;
    const change = excess_Pa / (exponent * air_Pa + slope_Pa_m3 * volume_m3);
    const next = x + change;
    // Convergence is quadratic: a step below 1e-8 leaves its square.
    if (Math.abs(change) < 1e-8) return next;
    x = next > low && next < high ? next : (low + high) / 2;
  }
  assert(false, "the volume at rest was not found");
}
