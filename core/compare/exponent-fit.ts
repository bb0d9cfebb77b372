import type { ShotSetup } from "../exchange/setup-shot.ts";
import { polytropicPrior } from "../propulsion/polytropic-prior.ts";
import { usualUncertainties } from "../propulsion/prediction-budget.ts";
import { shotOf } from "../propulsion/shot.ts";
import { waterPhase } from "../propulsion/water-phase.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import { leastSquares } from "../uncertainty/least-squares.ts";
import {
  type Descent,
  descend,
  type FitParameters,
  type FitRecord,
  type FreeParameter,
  fitRecordOf,
  type MeasuredThrust,
  modelThrust,
  used_s,
  usedThrust,
} from "./thrust-fit.ts";

export type FitOptions = {
  /** Fit the velocity coefficient as well: the exponent then rests on the curve's shape alone. */
  readonly fitVelocityCoefficient: boolean;
  /** Relative, k = 1, common to the channels. */
  readonly sensitivityRelU: number;
};

const inputs = [
  "setPressure_Pa",
  "velocityCoefficient",
  "bottleVolume_m3",
  "water_kg",
  "ambientPressure_Pa",
] as const;
type FitInput = (typeof inputs)[number];

export type FitRow = {
  readonly source: FitInput | "sensitivity" | "scatter";
  readonly u: number;
  /** What one unit more of the source, as entered, moves the exponent by. */
  readonly slope: number;
  readonly contribution: number;
};

export type ExponentFit = FitParameters & {
  readonly model: "unsteady" | "quasi-steady";
  /** Of the exponent, k = 1. */
  readonly u: number;
  /** Root mean square over the moments that were used. */
  readonly residual_N: number;
  readonly moments: number;
  /**
   * Largest first. Pressure, velocity coefficient and sensitivity move the curve nearly alike: the
   * record alone cannot tell them apart, so the pressure must have been read and not guessed.
   */
  readonly rows: readonly FitRow[];
};

const leastMoments = 8;
/** Wider than 1 to 1.4, so that a record that does not fit is seen to fail and not to stop at a limit. */
const believable = { least: 0.8, greatest: 1.7 };

/**
 * Fits the exponent of p Vⁿ to a measured thrust curve with the unsteady model, effective jet area
 * and moment of release free beside it. Without a bottle diameter the model is the quasi-steady
 * one, and `model` says so.
 * @fails fit-window-too-short, fit-not-converged, exponent-not-believable
 * @source docs/model.md#fit; checked in tests/reference/compare-exponent.reference.test.ts
 */
export function fitExponent(
  setup: ShotSetup,
  measured: MeasuredThrust,
  options: FitOptions,
): Result<ExponentFit> {
  if (!measured.thrust_N.every(Number.isFinite)) {
    const detail = "the thrust has samples that are no numbers";
    return failed(issue("value-not-finite", "record", detail, "fill the gaps, or leave this record out"));
  }
  const record = fitRecordOf(measured);
  if (record.used.length < leastMoments) {
    const detail = `${record.used.length} moments ${used_s * 1e3} ms apart in the burn, ${leastMoments} are needed`;
    return failed(issue("fit-window-too-short", "record", detail, "look whether the event was found whole"));
  }
  const free: readonly FreeParameter[] = options.fitVelocityCoefficient
    ? ["exponent", "contraction", "delay_s", "velocityCoefficient"]
    : ["exponent", "contraction", "delay_s"];
  const descent = descend(setup, record, startFrom(setup, measured.waterEnd_s), free);
  if (descent === undefined) {
    const remedy = "lay the two curves over each other: another event, other conditions, or not conditioned";
    return failed(
      issue("fit-not-converged", "record", "no exponent brings the model near the record", remedy),
    );
  }
  const { exponent } = descent.parameters;
  if (!(exponent > believable.least && exponent < believable.greatest)) {
    const detail = `the closest is n = ${exponent.toFixed(3)}`;
    const remedy = "look at the pressure that was entered, the sensitivity, the water: one of them is off";
    return failed(issue("exponent-not-believable", "record", detail, remedy));
  }
  const measured_N = usedThrust(record);
  const residual_N = measured_N.map((thrust_N, i) => thrust_N - descent.fitted_N[i]!);
  const rows = [
    scatterRow(descent, residual_N, free.length),
    ...inputRows(setup, record, descent, free),
    row("sensitivity", options.sensitivityRelU, leastChange(descent, measured_N, free.length)),
  ];
  return ok({
    ...descent.parameters,
    model: setup.bottleDiameter_m === undefined ? "quasi-steady" : "unsteady",
    u: Math.sqrt(rows.reduce((sum, one) => sum + one.contribution ** 2, 0)),
    residual_N: Math.sqrt(residual_N.reduce((sum, r) => sum + r * r, 0) / residual_N.length),
    moments: record.used.length,
    rows: rows.sort((a, b) => b.contribution - a.contribution),
  });
}

/** The time the water took is in inverse proportion to the jet's area: close enough from there for the descent. */
function startFrom(setup: ShotSetup, waterEnd_s: number): FitParameters {
  const { duration_s } = waterPhase(shotOf(setup));
  return {
    exponent: setup.polytropicExponent ?? polytropicPrior(setup.airTemperature_C).mean,
    contraction: (setup.contraction * duration_s) / waterEnd_s,
    delay_s: 0,
    velocityCoefficient: setup.velocityCoefficient,
  };
}

const row = (source: FitRow["source"], u: number, slope: number): FitRow => ({
  source,
  u,
  slope,
  contribution: Math.abs(slope) * u,
});

/** What the exponent does when the whole curve changes by `change_N`. */
const leastChange = ({ jacobian }: Descent, change_N: Float64Array, count: number) =>
  leastSquares(jacobian, change_N, count).parameters[0]!;

/** An input entered too high by one unit makes the model's curve too high: the exponent gives way by as much. */
function inputRows(
  setup: ShotSetup,
  record: FitRecord,
  descent: Descent,
  free: readonly FreeParameter[],
): FitRow[] {
  const { parameters, fitted_N } = descent;
  return inputs.flatMap((source) => {
    if ((free as readonly string[]).includes(source)) return [];
    const step = 1e-4 * setup[source];
    const moved = { ...setup, [source]: setup[source] + step };
    const velocityCoefficient =
      source === "velocityCoefficient" ? moved[source] : parameters.velocityCoefficient;
    const there = modelThrust(moved, { ...parameters, velocityCoefficient }, record);
    if (there === undefined) return [];
    const slope_N = there.map((thrust_N, i) => (fitted_N[i]! - thrust_N) / step);
    return [row(source, usualUncertainties[source], leastChange(descent, slope_N, free.length))];
  });
}

/** From the residuals; what ringing leaves at neighbouring moments is alike, and counts for fewer of them. */
function scatterRow({ jacobian }: Descent, residual_N: Float64Array, count: number): FitRow {
  const { inverse } = leastSquares(jacobian, residual_N, count);
  const squares = residual_N.reduce((sum, r) => sum + r * r, 0);
  const neighbours = residual_N.reduce((sum, r, i) => sum + r * (residual_N[i + 1] ?? 0), 0);
  const alike = squares > 0 ? Math.min(0.9, Math.max(0, neighbours / squares)) : 0;
  const variance = (squares / (residual_N.length - count)) * ((1 + alike) / (1 - alike));
  return row("scatter", Math.sqrt(variance), Math.sqrt(inverse[0]!));
}
