import { type AirDischarge, dischargeOf } from "./air-phase.ts";
import { heatCapacityRatio } from "./constants.ts";
import { drive_Pa, type Expansion } from "./expansion.ts";
import type { Shot } from "./shot.ts";
import { jetFactor, type WaterPhase } from "./water-phase.ts";

/** State of the burn at one value of an arc's variable; filled in place, since loops ask for many. */
export type Moment = {
  /** Derivative of time along the arc's variable; its sign is that of `to - from`. */
  timeRate_s: number;
  /** Jet momentum flux, and in the air phase the pressure on the opening as well. */
  thrust_N: number;
  water_kg: number;
};

/**
 * A part of the burn over a variable of its own in which everything is smooth, ends included, so
 * that Gauss rules hold for any integral over time: of thrust, of acceleration, of speed.
 */
export type Arc = {
  readonly phase: "water" | "air";
  readonly from: number;
  readonly to: number;
  readonly at: (variable: number, moment: Moment) => void;
  /** Given at once where the arc ends, beside its thrust; for flights, a curve has no place for it. */
  readonly endImpulse_Ns?: number;
};

/** The quasi-steady burn as arcs in order of time; empty arcs are left out. */
export function burnArcs(shot: Shot, expansion: Expansion, water: WaterPhase): readonly Arc[] {
  const arcs = water.expelled_kg > 0 ? [waterArc(shot, expansion)] : [];
  return expansion.emptied ? [...arcs, ...airArcs(shot, water)] : arcs;
}

/** The air phase of an emptied bottle; none where the air is no denser than outside. */
export function airArcs(shot: Shot, water: WaterPhase): readonly Arc[] {
  if (water.endPressure_Pa <= shot.ambient_Pa) return [];
  const discharge = dischargeOf(shot, water.endPressure_Pa, water.endTemperature_K);
  const rest = restArc(discharge.rest);
  return discharge.choked === undefined ? [rest] : [chokedArc(discharge.choked), rest];
}

function waterArc(shot: Shot, expansion: Expansion): Arc {
  const speedSquaredPerPascal = (2 * jetFactor(shot)) / shot.density_kg_m3;
  const { jetArea_m2, density_kg_m3, bottleVolume_m3 } = shot;
  return {
    phase: "water",
    from: expansion.startRoot,
    to: expansion.endRoot,
    at: (root, moment) => {
      const volume_m3 = expansion.restVolume_m3 * Math.exp(-root * root);
      const speedSquared = speedSquaredPerPascal * drive_Pa(expansion, root);
      moment.timeRate_s = (-2 * root * volume_m3) / (jetArea_m2 * Math.sqrt(speedSquared));
      moment.thrust_N = density_kg_m3 * jetArea_m2 * speedSquared;
      moment.water_kg = density_kg_m3 * (bottleVolume_m3 - volume_m3);
    },
  };
}

function chokedArc(choked: NonNullable<AirDischarge["choked"]>): Arc {
  const power = (-2 * heatCapacityRatio) / (heatCapacityRatio - 1);
  return {
    phase: "air",
    from: 0,
    to: choked.duration_s,
    at: (time_s, moment) => {
      const pressure_Pa = choked.startPressure_Pa * (1 + time_s / choked.timeScale_s) ** power;
      moment.timeRate_s = 1;
      moment.thrust_N = choked.pressureArea_m2 * pressure_Pa - choked.ambientForce_N;
      moment.water_kg = 0;
    },
  };
}

function restArc(rest: AirDischarge["rest"]): Arc {
  return {
    phase: "air",
    from: rest.startRoot,
    to: 0,
    at: (root, moment) => {
      moment.timeRate_s = -2 * rest.timeScale_s * (1 + root * root) ** 1.5;
      moment.thrust_N = rest.thrustScale_N * root * root;
      moment.water_kg = 0;
    },
  };
}
