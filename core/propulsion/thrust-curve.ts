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
  /** ∫ thrust dt from release, to each point. */
  readonly impulseUntil_Ns: Float64Array;
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

type Point = {
  readonly t_s: number;
  readonly thrust_N: number;
  readonly water_kg: number;
  readonly impulse_Ns: number;
};

function curveOf(arcs: readonly Arc[]): ThrustCurve {
  const points: Point[] = [];
  let waterEnd: Pick<Point, "t_s" | "impulse_Ns"> = { t_s: 0, impulse_Ns: 0 };
  for (const arc of arcs) {
    points.push(...arcPoints(arc, points.at(-1)));
    if (arc.phase === "water") waterEnd = points.at(-1)!;
  }
  const end = points.at(-1) ?? waterEnd;
  const column = (key: keyof Point) => Float64Array.from(points, (point) => point[key]);
  return {
    t_s: column("t_s"),
    thrust_N: column("thrust_N"),
    water_kg: column("water_kg"),
    impulseUntil_Ns: column("impulse_Ns"),
    waterEnd_s: waterEnd.t_s,
    end_s: end.t_s,
    impulse_Ns: end.impulse_Ns,
    waterImpulse_Ns: waterEnd.impulse_Ns,
  };
}

/** Both ends of an arc and its nodes, with time and impulse run up to each by the rule's own integrals. */
function arcPoints(arc: Arc, before: Point | undefined): readonly Point[] {
  const half = (arc.to - arc.from) / 2;
  const momentAt = (variable: number): Moment => {
    const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
    arc.at(variable, moment);
    return moment;
  };
  const nodes = Array.from(rule.nodes, (node) => momentAt(arc.from + half * (1 + node)));
  const start = { t_s: before?.t_s ?? 0, impulse_Ns: before?.impulse_Ns ?? 0 };
  const point = (weights: ArrayLike<number>, { thrust_N, water_kg }: Moment): Point => {
    let { t_s, impulse_Ns } = start;
    for (const [j, node] of nodes.entries()) {
      t_s += half * weights[j]! * node.timeRate_s;
      impulse_Ns += half * weights[j]! * node.timeRate_s * node.thrust_N;
    }
    return { t_s, thrust_N, water_kg, impulse_Ns };
  };
  const n = nodes.length;
  return [
    point(new Float64Array(n), momentAt(arc.from)),
    ...nodes.map((node, k) => point(running.subarray(k * n, (k + 1) * n), node)),
    point(rule.weights, momentAt(arc.to)),
  ];
}
