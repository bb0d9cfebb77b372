import { lowPass } from "./low-pass.ts";
import { type Ringing, withoutRinging } from "./ringing.ts";

/** The event's moments, in samples of the window; fractions of a sample are meant. */
export type Marks = { readonly onset: number; readonly waterEnd: number; readonly end: number };

/** Deviations of the quiet's noise that count as having begun. */
const begun = 5;
const leastPartOfPeak = 0.005;
/** Samples in a row that must be quiet for the rise to have begun after them. */
const calmSamples = 3;

/**
 * When the push begins: the rise is followed back into the noise along a cubic, which is how a sprung
 * mass answers a force that starts from zero.
 * @param sum  force felt, upward, zeroed
 * @param noiseTo  samples before it are quiet
 * @param to  the search ends here
 * @param dip  a step down at the onset, and the stand's circular frequency per sample
 */
export function findOnset(
  sum: Float64Array,
  noiseTo: number,
  to: number,
  dip?: { readonly step_N: number; readonly omega: number },
): { onset: number; u: number } {
  const { mean, deviation } = noise(sum, noiseTo);
  const peakAt = firstPeak(sum, noiseTo, to);
  const peak = sum[peakAt]! - mean;
  const threshold = Math.max(begun * deviation, leastPartOfPeak * peak);
  let half = noiseTo;
  while (half < peakAt && sum[half]! - mean < 0.25 * peak) half++;
  const away = (i: number) => Math.abs(sum[i]! - mean);
  let last = half;
  // A stopper's push that vanishes pulls the stand down before the thrust lifts it: through that dip, not into it.
  for (let i = half, calm = 0; i > 0 && calm < calmSamples; i--) {
    if (away(i) > threshold) {
      last = i - 1;
      calm = 0;
    } else calm++;
  }
  const rise = away(last + 1) - away(last);
  const crossing = last + (rise > 0 ? Math.max(0, Math.min(1, (threshold - away(last)) / rise)) : 0);
  if (dip !== undefined && sum[last + 1]! < mean) {
    // A step on a sprung mass answers as F (1 − cos ωt); the first sample out of the noise tells its own age.
    const age = Math.acos(Math.max(-1, 1 - away(last + 1) / dip.step_N)) / dip.omega;
    return { onset: Math.max(0, last + 1 - age), u: 0.5 };
  }

  const top = Math.max(3 * threshold, 0.12 * peak);
  let n = 0;
  let si = 0;
  let sc = 0;
  let sii = 0;
  let sic = 0;
  for (let i = last + 1; i <= half; i++) {
    const above = away(i);
    if (above > top && n >= 2) break;
    const c = Math.cbrt(above);
    n++;
    si += i;
    sc += c;
    sii += i * i;
    sic += i * c;
  }
  const slope = (n * sic - si * sc) / (n * sii - si * si);
  const root = n >= 2 && slope > 0 ? (si - sc / slope) / n : crossing;
  // A cubic that reaches back further than the rise is long was fitted to noise.
  const onset = root < crossing - 2 * Math.max(2, half - last) ? crossing : Math.min(root, crossing);
  return { onset: Math.max(0, onset), u: Math.max(0.5, 0.5 * (crossing - onset)) };
}

/** The first crest that reaches half of the greatest: ringing may put the greatest one later. */
function firstPeak(sum: Float64Array, from: number, to: number): number {
  let greatest = from;
  for (let i = from; i < to; i++) if (sum[i]! > sum[greatest]!) greatest = i;
  for (let i = from + 1; i < greatest; i++) {
    if (sum[i]! > 0.5 * sum[greatest]! && sum[i]! >= sum[i - 1]! && sum[i]! > sum[i + 1]!) return i;
  }
  return greatest;
}

export function noise(sum: Float64Array, to: number): { mean: number; deviation: number } {
  let s = 0;
  let ss = 0;
  for (let i = 0; i < to; i++) s += sum[i]!;
  const mean = to > 0 ? s / to : 0;
  for (let i = 0; i < to; i++) ss += (sum[i]! - mean) ** 2;
  return { mean, deviation: to > 1 ? Math.sqrt(ss / (to - 1)) : 0 };
}

/** Corner for the force without ringing, and where no ringing is known, for one that merely damps it. */
const corner_Hz = 100;
const cornerRinging_Hz = 60;
/** The water ends in the last part of the impulse; before that steep falls are ringing. */
const earliestPart = 0.6;
const firstPart = 0.65;
/** Deviations of the quiet's own slopes that a fall must exceed; the low-pass smears the start this far back. */
const outOfNoise = 5;
const quietGap_s = 0.01;
/** Within this time on either side the thrust falls by this part at least when the water ends, and by this much more than before. */
const fall_s = 0.004;
const leastFall = 0.12;
const sharpness = 2;

/**
 * When the water has left: the steepest fall of the driving force after most of the impulse.
 * @param sum  force felt; the weight in it changes too slowly to matter here
 * @param left_N  the level that stays when all is over
 * @returns undefined where nothing falls steeply
 */
export function findWaterEnd(
  sum: Float64Array,
  rate_Hz: number,
  ringing: Ringing | undefined,
  onset: number,
  end: number,
  left_N: number,
): number | undefined {
  const found =
    ringing && steepFall(withoutRinging(sum, rate_Hz, ringing, corner_Hz), rate_Hz, onset, end, left_N);
  // A second mode may hide the fall; then a look that damps them all may still show it.
  return found ?? steepFall(lowPass(sum, rate_Hz, cornerRinging_Hz), rate_Hz, onset, end, left_N);
}

function steepFall(
  driving: Float64Array,
  rate_Hz: number,
  onset: number,
  end: number,
  left_N: number,
): number | undefined {
  const from = Math.max(1, Math.ceil(onset));
  const to = Math.min(driving.length - 3, Math.ceil(end));
  let total = 0;
  for (let i = from; i < to; i++) total += driving[i]!;
  let seen = 0;
  let start = from;
  while (start < to && seen < earliestPart * total) seen += driving[start++]!;
  start = Math.max(start, 2);
  const fall = (i: number) => driving[i + 1]! - driving[i - 1]!;
  let steepest = 0;
  for (let i = start; i < to; i++) steepest = Math.min(steepest, fall(i));
  const calm = driving.subarray(0, Math.max(0, from - Math.round(quietGap_s * rate_Hz)));
  const slopes = Float64Array.from({ length: Math.max(0, calm.length - 2) }, (_, i) => fall(i + 1));
  const wanted = Math.min(firstPart * steepest, -outOfNoise * noise(slopes, slopes.length).deviation);
  const least_N = outOfNoise * noise(calm, calm.length).deviation;
  const reach = Math.max(1, Math.round(fall_s * rate_Hz));
  const level = (i: number) => driving[Math.max(0, Math.min(driving.length - 1, i))]!;
  const isSharp = (i: number) => {
    const fallen = level(i - reach) - level(i + reach);
    const declined = level(i - 3 * reach) - level(i - reach);
    const above = level(i - reach) - left_N;
    return fallen > least_N && fallen > leastFall * above && fallen > sharpness * declined;
  };
  for (let i = start; i < to; i++) {
    // At a low pressure the air's own end falls as steeply as the water's: the first of the two is meant.
    if (fall(i) <= wanted && fall(i) <= fall(i - 1) && fall(i) <= fall(i + 1) && isSharp(i))
      return vertex(fall, i);
  }
  return undefined;
}

/** The lowest point of the parabola through three slopes, for rates at which a sample is long. */
function vertex(fall: (i: number) => number, at: number): number {
  const bend = fall(at - 1) - 2 * fall(at) + fall(at + 1);
  if (!(bend > 0)) return at;
  return at + Math.max(-1, Math.min(1, (fall(at - 1) - fall(at + 1)) / (2 * bend)));
}

/**
 * The last measurable thrust: the last time the smoothed thrust stands out of the noise.
 * @param envelope  thrust after the zero-phase low-pass
 * @param least_N  what counts as measurable
 */
export function findEnd(envelope: Float64Array, from: number, to: number, least_N: number): number {
  let end = Math.min(to, envelope.length - 1);
  while (end > from && !(envelope[end]! > least_N)) end--;
  const over = envelope[end]!;
  const under = envelope[end + 1] ?? over;
  return over > under ? end + (over - least_N) / (over - under) : end;
}

/** First and last crossing of a level, in fractions of a sample; undefined where it is never reached. */
export function crossings(
  values: Float64Array,
  from: number,
  to: number,
  level: number,
): { readonly first: number; readonly last: number } | undefined {
  let first = from;
  while (first < to && values[first]! < level) first++;
  if (first >= to) return undefined;
  let last = to - 1;
  while (last > first && values[last]! < level) last--;
  const part = (under: number, over: number) => (over === under ? 0 : (level - under) / (over - under));
  return {
    first: first === from ? from : first - 1 + part(values[first - 1]!, values[first]!),
    last: last + 1 < values.length ? last + 1 - part(values[last + 1]!, values[last]!) : last,
  };
}

/** The largest value from one place to another, both included. */
export function greatest(values: Float64Array, from: number, to: number): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let i = Math.max(0, from); i <= to && i < values.length; i++) if (values[i]! > best) best = values[i]!;
  return best;
}
