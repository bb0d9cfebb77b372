import type { ShotSetup } from "../exchange/setup-shot.ts";
import { lowPass } from "../force/low-pass.ts";
import { shotOf } from "../propulsion/shot.ts";
import { thrustCurve } from "../propulsion/thrust-curve.ts";
import { leastSquares } from "../uncertainty/least-squares.ts";
import { meanThrustBetween } from "./curve-samples.ts";

/** Thrust of one event, zeroed, droop undone, weight put back. */
export type MeasuredThrust = {
  readonly thrust_N: Float64Array;
  readonly rate_Hz: number;
  /** Time of the first sample after the onset; negative before it. */
  readonly first_s: number;
  /** After the onset. */
  readonly waterEnd_s: number;
};

export type FitParameters = {
  readonly exponent: number;
  /** Effective: what the opening as typed must be multiplied by for the flow to take as long as it did. */
  readonly contraction: number;
  /** Release behind the onset as found; half the time that a slide takes to open is in it. */
  readonly delay_s: number;
  readonly velocityCoefficient: number;
};
export type FreeParameter = keyof FitParameters;

/** A record made ready for the fit, and the moments at which model and record are compared. */
export type FitRecord = {
  readonly rate_Hz: number;
  readonly t_s: Float64Array;
  readonly smooth_N: Float64Array;
  /** Indices into the samples. */
  readonly used: readonly number[];
};

/** Far below the ringing of a stand, far above how fast the burn changes; model and record go through the same. */
const corner_Hz = 60;
/** More samples than the low-pass leaves anything to see would only cost time. */
const enough_Hz = 4000;
/** Rate at which the model is smoothed. */
const fine_Hz = 20_000;
/** The spike hangs on how fast the slide opens, and the end on how the surface breaks through: both are left out. */
const skippedStart_s = 0.015;
const usedPart = 0.86;
export const used_s = 0.002;

/** Averages down to a rate that is enough, smooths, and picks a moment every 2 ms of the undisturbed burn. */
export function fitRecordOf({ thrust_N, rate_Hz, first_s, waterEnd_s }: MeasuredThrust): FitRecord {
  const block = Math.max(1, Math.floor(rate_Hz / enough_Hz));
  const count = Math.floor(thrust_N.length / block);
  const means_N = new Float64Array(count);
  for (let i = 0; i < count * block; i++) means_N[Math.floor(i / block)]! += thrust_N[i]! / block;
  const blockRate_Hz = rate_Hz / block;
  const start_s = first_s + (block - 1) / (2 * rate_Hz);
  const t_s = Float64Array.from({ length: count }, (_, i) => start_s + i / blockRate_Hz);
  const used: number[] = [];
  for (let i = 0; i < count; i++) {
    const next_s = skippedStart_s + used.length * used_s;
    if (t_s[i]! >= next_s && t_s[i]! <= usedPart * waterEnd_s) used.push(i);
  }
  return { rate_Hz: blockRate_Hz, t_s, smooth_N: lowPass(means_N, blockRate_Hz, corner_Hz), used };
}

/** The model's thrust, smoothed as the record, at the moments used; undefined where the parameters make no shot. */
export function modelThrust(
  setup: ShotSetup,
  parameters: FitParameters,
  record: FitRecord,
): Float64Array | undefined {
  const { exponent, contraction, velocityCoefficient, delay_s } = parameters;
  const shot = { ...setup, polytropicExponent: exponent, contraction, velocityCoefficient };
  if (!(exponent > 0.2 && exponent < 4 && contraction > 0 && velocityCoefficient > 0)) return undefined;
  if (!(shotOf(shot).areaRatio < 1)) return undefined;
  const curve = thrustCurve(shot, { unsteady: setup.bottleDiameter_m !== undefined });
  if (!curve.ok) return undefined;
  const parts = finePartsOf(record);
  const step_s = 1 / (record.rate_Hz * parts);
  const first_s = record.t_s[0]! - (parts / 2) * step_s - delay_s;
  const edges_s = Float64Array.from(
    { length: record.t_s.length * parts + 1 },
    (_, k) => first_s + k * step_s,
  );
  const smooth_N = lowPass(meanThrustBetween(curve.value, edges_s), record.rate_Hz * parts, corner_Hz);
  return Float64Array.from(record.used, (i) => smooth_N[i * parts + (parts - 1) / 2]!);
}

/** Odd. Finer than the record, else where in a sample the release falls would be lost, and with it the slope in time. */
const finePartsOf = ({ rate_Hz }: FitRecord) => 2 * Math.ceil(fine_Hz / (2 * rate_Hz)) + 1;

export const usedThrust = ({ smooth_N, used }: FitRecord) => Float64Array.from(used, (i) => smooth_N[i]!);

export type Descent = {
  readonly parameters: FitParameters;
  /** ∂thrust/∂parameter at the moments used, row-major, columns in the order of the free parameters. */
  readonly jacobian: Float64Array;
  readonly fitted_N: Float64Array;
};

/**
 * For the differences of the Jacobian. In time just one fine sample: the model has a kink wherever the
 * release crosses an edge of them, and over a whole period the kinks drop out.
 */
const stepsOf = (record: FitRecord): FitParameters => ({
  exponent: 1e-4,
  contraction: 1e-4,
  delay_s: 1 / (record.rate_Hz * finePartsOf(record)),
  velocityCoefficient: 1e-4,
});
const rounds = 40;

/**
 * Levenberg and Marquardt's descent, damped by the columns' own lengths.
 * @returns undefined where it does not come to rest
 * @source Marquardt, J. SIAM 11 (1963) 431; damping by the gain kept, as in Fletcher, AERE-R 6799 (1971)
 */
export function descend(
  setup: ShotSetup,
  record: FitRecord,
  start: FitParameters,
  free: readonly FreeParameter[],
): Descent | undefined {
  let parameters = start;
  let fitted_N = modelThrust(setup, parameters, record);
  const measured_N = usedThrust(record);
  let damping = 1e-3;
  for (let round = 0; round < rounds && fitted_N !== undefined; round++) {
    const jacobian = jacobianAt(setup, parameters, fitted_N, record, free);
    if (jacobian === undefined) return undefined;
    const residual = measured_N.map((thrust_N, i) => thrust_N - fitted_N![i]!);
    if (gainLeft(jacobian, residual, free.length) < rest(residual, measured_N, free.length)) {
      return { parameters, jacobian, fitted_N };
    }
    const change = dampedStep(jacobian, residual, free.length, damping);
    const next = moved(parameters, free, change);
    const nextFitted_N = modelThrust(setup, next, record);
    const before = total(residual);
    const gain = nextFitted_N === undefined ? -1 : before - squares(measured_N, nextFitted_N);
    if (nextFitted_N !== undefined && gain >= 0) {
      parameters = next;
      fitted_N = nextFitted_N;
    }
    // A step that keeps little of its promise has crossed the valley: shorter ones then, though it gained.
    const kept = gain / (before - total(afterStep(jacobian, residual, change)));
    damping *= kept > 0.75 ? 0.1 : kept < 0.25 ? 10 : 1;
  }
  return undefined;
}

/** What the best linear step would still take off the sum of squares; damping has no say in it. */
function gainLeft(jacobian: Float64Array, residual: Float64Array, count: number): number {
  return total(residual) - leastSquares(jacobian, residual, count).squares;
}

/**
 * The gain that is left, over the variance of one moment, is the square of how far the parameters
 * still are from the best, in units of their own scatter: a fifth is near enough. Less cannot be
 * asked: where the release crosses the edge of a sample the model has a kink.
 */
const rest = (residual: Float64Array, measured_N: Float64Array, count: number) =>
  (0.2 ** 2 * total(residual)) / (residual.length - count) + 1e-14 * total(measured_N);

const total = (values: Float64Array) => values.reduce((sum, value) => sum + value * value, 0);

function jacobianAt(
  setup: ShotSetup,
  parameters: FitParameters,
  fitted_N: Float64Array,
  record: FitRecord,
  free: readonly FreeParameter[],
): Float64Array | undefined {
  const jacobian = new Float64Array(fitted_N.length * free.length);
  const step = stepsOf(record);
  for (const [k, key] of free.entries()) {
    const shifted = modelThrust(setup, { ...parameters, [key]: parameters[key] + step[key] }, record);
    if (shifted === undefined) return undefined;
    for (let i = 0; i < fitted_N.length; i++)
      jacobian[i * free.length + k] = (shifted[i]! - fitted_N[i]!) / step[key];
  }
  return jacobian;
}

/** What the linear model says is left of the residual. */
const afterStep = (jacobian: Float64Array, residual: Float64Array, change: Float64Array) =>
  residual.map((r, i) => change.reduce((left, c, k) => left - jacobian[i * change.length + k]! * c, r));

/** The damping as rows of its own: each parameter held to where it is, by a part of its column's length. */
function dampedStep(
  jacobian: Float64Array,
  residual: Float64Array,
  count: number,
  damping: number,
): Float64Array {
  const rows = residual.length;
  const design = new Float64Array((rows + count) * count);
  design.set(jacobian);
  for (let k = 0; k < count; k++) {
    let length = 0;
    for (let i = 0; i < rows; i++) length += jacobian[i * count + k]! ** 2;
    design[(rows + k) * count + k] = Math.sqrt(damping * length);
  }
  const observed = new Float64Array(rows + count);
  observed.set(residual);
  return leastSquares(design, observed, count).parameters;
}

const moved = (
  parameters: FitParameters,
  free: readonly FreeParameter[],
  change: Float64Array,
): FitParameters => ({
  ...parameters,
  ...Object.fromEntries(free.map((key, k) => [key, parameters[key] + change[k]!])),
});

const squares = (measured_N: Float64Array, fitted_N: Float64Array) =>
  measured_N.reduce((sum, thrust_N, i) => sum + (thrust_N - fitted_N[i]!) ** 2, 0);
