import type { ShotSetup } from "../exchange/setup-shot.ts";
import { type InputUncertainties, predictionBudget } from "../propulsion/prediction-budget.ts";
import { shotOf } from "../propulsion/shot.ts";
import { thrustCurve } from "../propulsion/thrust-curve.ts";
import { ok, type Result } from "../result.ts";
import { thrustAt } from "./curve-samples.ts";

export type PredictedBand = {
  readonly t_s: Float64Array;
  readonly thrust_N: Float64Array;
  /** k = 1, of the thrust at that time; wide near the end, whose time is uncertain too. */
  readonly u_N: Float64Array;
};

export type BandOptions = {
  readonly unsteady: boolean;
  readonly uncertainties?: Partial<InputUncertainties>;
};

/**
 * The predicted thrust with what its inputs leave open, for drawing beside a record: each input
 * moved by its u to both sides, the halves of the differences added in squares.
 * @param t_s  times from release, rising
 * @fails bottle-diameter-missing where `unsteady` is asked without one
 * @source JCGM 100:2008 (GUM) 5.1.3 note 2
 */
export function predictedBand(
  setup: ShotSetup,
  t_s: Float64Array,
  { unsteady, uncertainties = {} }: BandOptions,
): Result<PredictedBand> {
  const curve = thrustCurve(setup, { unsteady });
  if (!curve.ok) return curve;
  const thrust_N = thrustAt(curve.value, t_s);
  const squares = new Float64Array(t_s.length);
  for (const { quantity, value, u } of predictionBudget(setup, uncertainties).rows) {
    // A step that would overfill the bottle has no curve; the prediction itself then stands on that side.
    const above = sampled({ ...setup, [quantity]: value + u }, t_s, unsteady);
    const below = sampled({ ...setup, [quantity]: value - u }, t_s, unsteady);
    const sides = (above ? 1 : 0) + (below ? 1 : 0);
    if (sides === 0) continue;
    for (let i = 0; i < t_s.length; i++) {
      const move = ((above ?? thrust_N)[i]! - (below ?? thrust_N)[i]!) / sides;
      squares[i] = squares[i]! + move * move;
    }
  }
  return ok({ t_s, thrust_N, u_N: squares.map(Math.sqrt) });
}

function sampled(setup: ShotSetup, t_s: Float64Array, unsteady: boolean): Float64Array | undefined {
  const { airVolume_m3, water_kg, areaRatio } = shotOf(setup);
  if (!(airVolume_m3 > 0 && water_kg >= 0 && areaRatio < 1)) return undefined;
  const curve = thrustCurve(setup, { unsteady });
  return curve.ok ? thrustAt(curve.value, t_s) : undefined;
}
