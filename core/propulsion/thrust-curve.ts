import type { ShotSetup } from "../exchange/setup-shot.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import { type Arc, airArcs, burnArcs, type Moment } from "./burn-arcs.ts";
import { expansionOf } from "./expansion.ts";
import { gaussLegendre, runningIntegral } from "./gauss-legendre.ts";
import { type Shot, shotOf } from "./shot.ts";
import { type Column, columnArcs, columnEnd_m3, columnOf } from "./unsteady-start.ts";
import { waterPhase } from "./water-phase.ts";

export type ThrustCurve = {
  /** From release, rising; points lie closer where the curve is steep. */
  readonly t_s: Float64Array;
  readonly thrust_N: Float64Array;
  /** Water still aboard. */
  readonly water_kg: Float64Array;
  readonly waterEnd_s: number;
  readonly end_s: number;
  readonly impulse_Ns: number;
  readonly waterImpulse_Ns: number;
};

export type ThrustCurveOptions = {
  /**
   * false: jet momentum flux, no start spike, as in the prediction's numbers. true: the force a
   * stand feels after release at once, spike and all; needs the bottle's diameter.
   */
  readonly unsteady: boolean;
};

/**
 * Thrust over time, for plots and for comparison with a record.
 * @fails bottle-diameter-missing where `unsteady` is asked without one
 * @source docs/model.md#start
 */
export function thrustCurve(setup: ShotSetup, options: ThrustCurveOptions): Result<ThrustCurve> {
  const shot = shotOf(setup);
  if (!options.unsteady) return ok(curveOf(burnArcs(shot, expansionOf(shot), waterPhase(shot))));
  const { bottleDiameter_m } = setup;
  if (bottleDiameter_m === undefined) {
    const remedy = "measure the bottle's inside diameter, or ask for the quasi-steady curve";
    const detail = "the start of the flow needs the column of water, and so the bottle's section";
    return failed(issue("bottle-diameter-missing", "bottleDiameter_m", detail, remedy));
  }
  return ok(curveOf(unsteadyArcs(shot, columnOf({ ...setup, bottleDiameter_m }, shot))));
}

/** The burn with the inertia of the water: what the bottle at rest feels, spike first. */
export function unsteadyArcs(shot: Shot, column: Column): readonly Arc[] {
  if (!(shot.water_kg > 0)) return airArcs(shot, waterPhase(shot));
  const water = columnArcs(column);
  const emptied = columnEnd_m3(column) >= shot.bottleVolume_m3;
  return emptied ? [...water, ...airArcs(shot, waterPhase(shot))] : water;
}

const rule = gaussLegendre(16);
const running = runningIntegral(rule);

function curveOf(arcs: readonly Arc[]): ThrustCurve {
  const t_s: number[] = [];
  const thrust_N: number[] = [];
  const water_kg: number[] = [];
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  const n = rule.nodes.length;
  const record = (time_s: number) => {
    t_s.push(time_s);
    thrust_N.push(moment.thrust_N);
    water_kg.push(moment.water_kg);
  };
  let start_s = 0;
  let waterEnd_s = 0;
  let impulse_Ns = 0;
  let waterImpulse_Ns = 0;
  for (const arc of arcs) {
    const half = (arc.to - arc.from) / 2;
    const moments = Array.from(rule.nodes, (node) => {
      arc.at(arc.from + half * (1 + node), moment);
      return { ...moment };
    });
    arc.at(arc.from, moment);
    record(start_s);
    let duration_s = 0;
    for (let k = 0; k < n; k++) {
      let time_s = start_s;
      for (let j = 0; j < n; j++) time_s += half * running[k * n + j]! * moments[j]!.timeRate_s;
      Object.assign(moment, moments[k]);
      record(time_s);
      duration_s += half * rule.weights[k]! * moment.timeRate_s;
      impulse_Ns += half * rule.weights[k]! * moment.timeRate_s * moment.thrust_N;
    }
    start_s += duration_s;
    arc.at(arc.to, moment);
    record(start_s);
    if (arc.phase === "water") [waterEnd_s, waterImpulse_Ns] = [start_s, impulse_Ns];
  }
  return {
    t_s: Float64Array.from(t_s),
    thrust_N: Float64Array.from(thrust_N),
    water_kg: Float64Array.from(water_kg),
    waterEnd_s,
    end_s: start_s,
    impulse_Ns,
    waterImpulse_Ns,
  };
}
