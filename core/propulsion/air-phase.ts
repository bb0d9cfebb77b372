import { airGasConstant_J_kgK, heatCapacityRatio } from "./constants.ts";
import type { Shot } from "./shot.ts";

export type AirPhase = {
  readonly impulse_Ns: number;
  readonly duration_s: number;
  /** Sonic in the opening when the water ends. */
  readonly choked: boolean;
};

export const noAirPhase: AirPhase = { impulse_Ns: 0, duration_s: 0, choked: false };

const γ = heatCapacityRatio;
/** (γ - 1)/γ */
const κ = (γ - 1) / γ;
/** p/p0 at which the flow in the opening becomes sonic: 0.52828. */
export const criticalPressureRatio = (2 / (γ + 1)) ** (γ / (γ - 1));
/** Mach-like variable u = (x - 1)^½ with x = (p/p_a)^κ; its value where the flow stops being choked. */
const criticalRoot = Math.sqrt((γ - 1) / 2);

/**
 * The air that follows the water: an isentropic vessel that empties through the opening.
 * Both parts are closed: choked as a power law of time, the rest by x^(3/2) being integrable for
 * γ = 7/5, and it ends in finite time at p = p_a.
 * @param start_Pa  absolute pressure when the water ends; at or below the ambient there is no air phase
 * @param start_K  air temperature then
 * @source docs/model.md#air; checked in tests/reference/prediction-air.reference.test.ts
 */
export function airPhase(shot: Shot, start_Pa: number, start_K: number): AirPhase {
  if (start_Pa <= shot.ambient_Pa) return noAirPhase;
  const discharge = dischargeOf(shot, start_Pa, start_K);
  const { choked, rest } = discharge;
  const rest_Ns = rest.impulseScale_Ns * impulseIntegral(rest.startRoot);
  const rest_s = rest.timeScale_s * timeIntegral(rest.startRoot);
  if (choked === undefined) return { impulse_Ns: rest_Ns, duration_s: rest_s, choked: false };
  return {
    impulse_Ns: choked.impulse_Ns + rest_Ns,
    duration_s: choked.duration_s + rest_s,
    choked: true,
  };
}

/** The two parts of the discharge, with what a time history needs of each. */
export type AirDischarge = {
  /** p = startPressure (1 + t/timeScale)^(-2γ/(γ-1)); thrust = pressureArea p - ambientForce. */
  readonly choked?: {
    readonly startPressure_Pa: number;
    readonly timeScale_s: number;
    readonly duration_s: number;
    readonly impulse_Ns: number;
    readonly pressureArea_m2: number;
    readonly ambientForce_N: number;
  };
  /** dt = timeScale (1 + u²)^(3/2) 2 du and thrust = thrustScale u², as u falls from startRoot to 0. */
  readonly rest: {
    readonly startRoot: number;
    readonly timeScale_s: number;
    readonly impulseScale_Ns: number;
    readonly thrustScale_N: number;
  };
};

export function dischargeOf(shot: Shot, start_Pa: number, start_K: number): AirDischarge {
  const { bottleVolume_m3, ambient_Pa, jetArea_m2, velocityCoefficient: Cv } = shot;
  const isChoked = ambient_Pa <= criticalPressureRatio * start_Pa;
  // Isentropic from the water's end to p_a: the state the emptied bottle and the slow jet both have.
  const end_K = start_K * (ambient_Pa / start_Pa) ** κ;
  const speedScale_m_s = Math.sqrt(((2 * γ) / (γ - 1)) * airGasConstant_J_kgK * end_K);
  const endDensity_kg_m3 = ambient_Pa / (airGasConstant_J_kgK * end_K);
  const flowScale_m3_s = jetArea_m2 * Cv * speedScale_m_s;
  const rest = {
    startRoot: isChoked ? criticalRoot : Math.sqrt(Math.expm1(κ * Math.log(start_Pa / ambient_Pa))),
    timeScale_s: bottleVolume_m3 / ((γ - 1) * flowScale_m3_s),
    impulseScale_Ns: (endDensity_kg_m3 * bottleVolume_m3 * Cv * speedScale_m_s) / (γ - 1),
    thrustScale_N: endDensity_kg_m3 * Cv * speedScale_m_s * flowScale_m3_s,
  };
  return isChoked ? { choked: chokedPart(shot, start_Pa, start_K), rest } : { rest };
}

function chokedPart(shot: Shot, start_Pa: number, start_K: number) {
  const { bottleVolume_m3, ambient_Pa, jetArea_m2, velocityCoefficient: Cv } = shot;
  const mass_kg = (start_Pa * bottleVolume_m3) / (airGasConstant_J_kgK * start_K);
  const exitSpeed_m_s = Math.sqrt(((2 * γ) / (γ + 1)) * airGasConstant_J_kgK * start_K);
  const flow_kg_s =
    Cv *
    jetArea_m2 *
    start_Pa *
    Math.sqrt(γ / (airGasConstant_J_kgK * start_K)) *
    (2 / (γ + 1)) ** ((γ + 1) / (2 * (γ - 1)));
  const timeScale_s = ((2 / (γ - 1)) * mass_kg) / flow_kg_s;
  // Down to where p_a is the critical part of p; u = (p_end/p_start)^(κ/2) is the fall in sound speed.
  const soundRatio = (ambient_Pa / (criticalPressureRatio * start_Pa)) ** (κ / 2);
  const duration_s = timeScale_s * (1 / soundRatio - 1);
  const gone = -Math.expm1(((γ + 1) / (γ - 1)) * Math.log(soundRatio));
  const momentum_Ns = (2 / (γ + 1)) * exitSpeed_m_s * mass_kg * gone;
  const ambientForce_N = ambient_Pa * jetArea_m2;
  return {
    startPressure_Pa: start_Pa,
    timeScale_s,
    duration_s,
    impulse_Ns: Cv * momentum_Ns + momentum_Ns / (γ * Cv) - ambientForce_N * duration_s,
    pressureArea_m2: (flow_kg_s * Cv * exitSpeed_m_s) / start_Pa + criticalPressureRatio * jetArea_m2,
    ambientForce_N,
  };
}

/** ∫ 2 u² (1 + u²)^(3/2) du from 0 to u, which is thrust times time. */
function impulseIntegral(u: number): number {
  const x = 1 + u * u;
  return (u * x ** 2.5) / 3 - timeIntegral(u) / 6;
}

/** ∫ 2 (1 + u²)^(3/2) du from 0 to u. */
function timeIntegral(u: number): number {
  return (u * (2 * u * u + 5) * Math.sqrt(1 + u * u)) / 4 + (3 / 4) * Math.asinh(u);
}
