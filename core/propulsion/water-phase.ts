import { drive_Pa, type Expansion, expansionOf } from "./expansion.ts";
import { gaussLegendre } from "./gauss-legendre.ts";
import type { Shot } from "./shot.ts";

export type WaterPhase = {
  /** ∫ ρ Q v_j dt; the start spike is in it (docs/model.md#start). */
  readonly impulse_Ns: number;
  readonly duration_s: number;
  readonly expelled_kg: number;
  /** Water that stays because the drive ends first; 0 otherwise. */
  readonly left_kg: number;
  /** Jet momentum flux ρ Q v_j at full flow; no start spike. 0 without water. */
  readonly thrustStart_N: number;
  readonly thrustEnd_N: number;
  /** ∫ (ρ/2) Q v_j² dt */
  readonly jetEnergy_J: number;
  /** W = ∫ (p - p_a) dV */
  readonly workOnWater_J: number;
  readonly endPressure_Pa: number;
  readonly endTemperature_K: number;
};

/** Leaves less than 1e-12 of the integrals undone from a hundredth to nearly all of the bottle full of air. */
const rule = gaussLegendre(16);

/**
 * The time water is driven out, quasi-steady, the bottle at rest.
 * @returns every figure to 1e-9 relative or better of what the equations say
 * @source docs/model.md#water; checked in tests/reference/prediction-water.reference.test.ts
 */
export function waterPhase(shot: Shot): WaterPhase {
  const expansion = expansionOf(shot);
  const { logVolumeRatio: x, startDrive_Pa } = expansion;
  const { impulse_Ns, duration_s } = impulseAndDuration(shot, expansion);
  const swept_m3 = shot.airVolume_m3 * Math.expm1(x);
  const workOnWater_J =
    shot.start_Pa * shot.airVolume_m3 * decayIntegral(x, shot.exponent - 1) - shot.ambient_Pa * swept_m3;
  const thrustPerPascal_m2 = 2 * shot.jetArea_m2 * jetFactor(shot);
  return {
    impulse_Ns,
    duration_s,
    expelled_kg: expansion.emptied ? shot.water_kg : shot.density_kg_m3 * swept_m3,
    left_kg: expansion.emptied ? 0 : shot.density_kg_m3 * expansion.leftVolume_m3,
    thrustStart_N: shot.water_kg > 0 ? thrustPerPascal_m2 * startDrive_Pa : 0,
    thrustEnd_N: shot.water_kg > 0 ? thrustPerPascal_m2 * drive_Pa(expansion, expansion.endRoot) : 0,
    jetEnergy_J: jetFactor(shot) * (workOnWater_J + workOfHead_J(shot, swept_m3)),
    workOnWater_J,
    endPressure_Pa: shot.start_Pa * Math.exp(-shot.exponent * x),
    endTemperature_K: shot.airTemperature_K * Math.exp(-(shot.exponent - 1) * x),
  };
}

/** v_j² per unit of 2 D/ρ: C_v²/(1 - σ²). */
export const jetFactor = (shot: Shot) => shot.velocityCoefficient ** 2 / (1 - shot.areaRatio ** 2);

/**
 * I = ∫ ρ v_j dV and t = ∫ dV / (A_j v_j), over r with V = V_* exp(-r²): the root of the drive at
 * V_* becomes a simple zero of both dV and v_j and drops out, even where the water never gets there.
 */
function impulseAndDuration(shot: Shot, expansion: Expansion) {
  const { restVolume_m3, startRoot, endRoot, rootSpan } = expansion;
  const middle = (startRoot + endRoot) / 2;
  let sumSpeed = 0;
  let sumSlowness = 0;
  for (let k = 0; k < rule.nodes.length; k++) {
    const root = middle + (rootSpan / 2) * rule.nodes[k]!;
    const speed = Math.sqrt(drive_Pa(expansion, root));
    const swept = rule.weights[k]! * root * Math.exp(-root * root);
    sumSpeed += swept * speed;
    sumSlowness += swept / speed;
  }
  // dV = 2 r V dr, and half the span for the rule's own interval.
  const scale_m3 = restVolume_m3 * rootSpan;
  const speedPerRootPascal = Math.sqrt((2 * jetFactor(shot)) / shot.density_kg_m3);
  return {
    impulse_Ns: shot.density_kg_m3 * speedPerRootPascal * scale_m3 * sumSpeed,
    duration_s: (scale_m3 * sumSlowness) / (shot.jetArea_m2 * speedPerRootPascal),
  };
}

/** ∫ ρ g H dV: what the falling column itself gives. */
function workOfHead_J(shot: Shot, swept_m3: number): number {
  const meanColumn_m = shot.headPerVolume_m_m3 * (shot.waterVolume_m3 - swept_m3 / 2);
  return shot.density_kg_m3 * shot.gravity_m_s2 * (meanColumn_m + shot.neckHead_m) * swept_m3;
}

/** ∫ exp(-a x) dx from 0 to x; the limit a → 0 is x itself. */
function decayIntegral(x: number, a: number): number {
  const exponent = a * x;
  return Math.abs(exponent) < 1e-300 ? x : (-x * Math.expm1(-exponent)) / exponent;
}
