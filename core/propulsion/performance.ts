import { type AirPhase, airPhase, noAirPhase } from "./air-phase.ts";
import { standardGravity_m_s2 } from "./constants.ts";
import type { Shot } from "./shot.ts";
import { type WaterPhase, waterPhase } from "./water-phase.ts";

export type Performance = {
  readonly water: {
    readonly impulse_Ns: number;
    readonly duration_s: number;
    readonly expelled_kg: number;
    readonly left_kg: number;
    readonly thrustStart_N: number;
    readonly thrustEnd_N: number;
    readonly jetEnergy_J: number;
  };
  readonly air: AirPhase;
  readonly impulse_Ns: number;
  /** Total impulse per weight of expelled water at standard gravity; null where no water is expelled. */
  readonly specificImpulse_s: number | null;
};

/** Thrust side alone, without energies, throw and uncertainty: what maps ask for, thousands at a time. */
export function performanceOf(shot: Shot, phase: WaterPhase = waterPhase(shot)): Performance {
  const air = phase.left_kg > 0 ? noAirPhase : airPhase(shot, phase.endPressure_Pa, phase.endTemperature_K);
  const impulse_Ns = phase.impulse_Ns + air.impulse_Ns;
  return {
    water: {
      impulse_Ns: phase.impulse_Ns,
      duration_s: phase.duration_s,
      expelled_kg: phase.expelled_kg,
      left_kg: phase.left_kg,
      thrustStart_N: phase.thrustStart_N,
      thrustEnd_N: phase.thrustEnd_N,
      jetEnergy_J: phase.jetEnergy_J,
    },
    air,
    impulse_Ns,
    specificImpulse_s: specificImpulse_s(impulse_Ns, phase.expelled_kg),
  };
}

function specificImpulse_s(impulse_Ns: number, expelled_kg: number): number | null {
  const value = impulse_Ns / (expelled_kg * standardGravity_m_s2);
  return Number.isFinite(value) ? value : null;
}
