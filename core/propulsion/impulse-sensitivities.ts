import { airPhase } from "./air-phase.ts";
import { drive_Pa, type Expansion } from "./expansion.ts";
import { gaussLegendre } from "./gauss-legendre.ts";
import type { Shot } from "./shot.ts";
import { jetFactor, type WaterPhase } from "./water-phase.ts";

/** ∂I/∂x, N s for each SI unit of x. */
export type ImpulseSensitivities = {
  readonly exponent: number;
  readonly gauge_Pa: number;
  readonly ambient_Pa: number;
  readonly bottleVolume_m3: number;
  readonly water_kg: number;
  readonly velocityCoefficient: number;
  /** For a relative change of the jet's area, which acts through the area ratio alone. */
  readonly jetAreaRelative: number;
};

/**
 * Derivatives of the water phase's I = k ∫ √D dV under the integral sign, k = √(2 ρ) C_v/√(1 - σ²):
 * half of ∫ D_x/√D dV and what the ends move by. Three integrals serve all inputs, in one pass.
 * @source docs/model.md#uncertainty; checked against central differences in tests/core/propulsion
 */
export function waterSensitivities(
  shot: Shot,
  expansion: Expansion,
  impulse_Ns: number,
): ImpulseSensitivities {
  const { density_kg_m3: ρ, exponent: n, airVolume_m3: V0, areaRatio } = shot;
  const { ofPressure, ofLogPressure, ofOne } = driveIntegrals(expansion);
  const k = Math.sqrt(2 * ρ * jetFactor(shot));
  const startRoot_Pa = Math.sqrt(expansion.startDrive_Pa);
  const endRoot_Pa = Math.sqrt(drive_Pa(expansion, expansion.endRoot));
  const headPerVolume_Pa_m3 = ρ * shot.gravity_m_s2 * shot.headPerVolume_m_m3;
  const area = areaRatio * areaRatio;
  return {
    exponent: -0.5 * k * ofLogPressure,
    gauge_Pa: (0.5 * k * ofPressure) / shot.start_Pa,
    ambient_Pa: 0.5 * k * (ofPressure / shot.start_Pa - ofOne),
    // The bottle and its air grow alike, and so does the last volume where all the water goes.
    bottleVolume_m3:
      0.5 * k * ((n / V0) * ofPressure + headPerVolume_Pa_m3 * ofOne) + k * (endRoot_Pa - startRoot_Pa),
    water_kg: (k / ρ) * (startRoot_Pa - ((0.5 * n) / V0) * ofPressure),
    velocityCoefficient: impulse_Ns / shot.velocityCoefficient,
    jetAreaRelative: (impulse_Ns * area) / (1 - area),
  };
}

const rule = gaussLegendre(8);

/** ∫ p/√D dV, ∫ p ln(V/V0)/√D dV, ∫ 1/√D dV, over the root as in the water phase. */
function driveIntegrals(expansion: Expansion) {
  const { startRoot, endRoot, rootSpan, restVolume_m3, restPressure_Pa, exponent } = expansion;
  const middle = (startRoot + endRoot) / 2;
  const logRest = startRoot * startRoot;
  let ofPressure = 0;
  let ofLogPressure = 0;
  let ofOne = 0;
  for (let i = 0; i < rule.nodes.length; i++) {
    const root = middle + (rootSpan / 2) * rule.nodes[i]!;
    const square = root * root;
    const slowness = (rule.weights[i]! * root * Math.exp(-square)) / Math.sqrt(drive_Pa(expansion, root));
    const pressure = slowness * restPressure_Pa * Math.exp(exponent * square);
    ofOne += slowness;
    ofPressure += pressure;
    ofLogPressure += pressure * (logRest - square);
  }
  const scale_m3 = restVolume_m3 * rootSpan;
  return {
    ofPressure: scale_m3 * ofPressure,
    ofLogPressure: scale_m3 * ofLogPressure,
    ofOne: scale_m3 * ofOne,
  };
}

const none: ImpulseSensitivities = {
  exponent: 0,
  gauge_Pa: 0,
  ambient_Pa: 0,
  bottleVolume_m3: 0,
  water_kg: 0,
  velocityCoefficient: 0,
  jetAreaRelative: 0,
};

/** Far above rounding; the air phase is smooth. */
const relativeStep = 1e-4;

/**
 * Derivatives of the air phase's impulse. It is as the volume, as 1/√T1, and of the first degree in
 * p1 and p_a together, so that one derivative by differences, in p1, gives all but the velocity
 * coefficient's; p1 and T1 then follow the polytrope of the water phase.
 */
export function airSensitivities(shot: Shot, expansion: Expansion, water: WaterPhase): ImpulseSensitivities {
  const { endPressure_Pa: p1, endTemperature_K: T1 } = water;
  if (!expansion.emptied || p1 <= shot.ambient_Pa) return none;
  const { exponent: n, airVolume_m3: V0, bottleVolume_m3: Vb, velocityCoefficient: Cv } = shot;
  const { impulse_Ns, choked } = airPhase(shot, p1, T1);
  const step = relativeStep * (p1 - shot.ambient_Pa);
  const ofPressure =
    (airPhase(shot, p1 + step, T1).impulse_Ns - airPhase(shot, p1 - step, T1).impulse_Ns) / (2 * step);
  // For a relative change of p1, then of the air's volume ratio x = ln(V_b/V0) in ln p1 and in ln T1.
  const ofLog = ofPressure * p1;
  const ofRatio = -n * ofLog + ((n - 1) * impulse_Ns) / 2;
  return {
    exponent: expansion.logVolumeRatio * (impulse_Ns / 2 - ofLog),
    gauge_Pa: ofLog / shot.start_Pa,
    ambient_Pa: ofLog / shot.start_Pa + (impulse_Ns - ofLog) / shot.ambient_Pa,
    bottleVolume_m3: impulse_Ns / Vb + ofRatio * (1 / Vb - 1 / V0),
    water_kg: ofRatio / (shot.density_kg_m3 * V0),
    velocityCoefficient: choked ? chokedCoefficientSlope(shot, p1, T1) : impulse_Ns / Cv,
    jetAreaRelative: 0,
  };
}

/** While the opening is sonic the pressure on it does not follow the coefficient. */
function chokedCoefficientSlope(shot: Shot, p1: number, T1: number): number {
  const Cv = shot.velocityCoefficient;
  const step = relativeStep * Cv;
  const at = (velocityCoefficient: number) => airPhase({ ...shot, velocityCoefficient }, p1, T1).impulse_Ns;
  return (at(Cv + step) - at(Cv - step)) / (2 * step);
}
