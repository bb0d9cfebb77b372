import type { Blocks } from "./blocks.ts";
import { summed } from "./blocks.ts";

/** A stretch of the record, in blocks, in which the force changes by more than noise. */
export type Stretch = { readonly from: number; readonly to: number };

/** Change is looked for over a period of mains hum, which then cancels. */
const lag_s = 0.02;
/** Stretches nearer than this belong together: ringing that comes and goes. */
const join_s = 0.1;
/** Part of the greatest thrust expected from pressure and opening that is worth a look. */
const leastPart = 0.02;
/** Of the noise of a change, so that a long record has no false alarm. */
const deviations = 7;
/** Standard deviation of a normal over the median of its magnitude. */
const ofMedian = 1.4826;

/**
 * Finds where something happens: sharp changes from block to block, and slower ones between means over a
 * hum period, in which noise counts for less. Liberal on purpose: what it finds is judged later, and what
 * it misses would spoil the quiet windows of its neighbours.
 * @param expected_N  thrust at the start by pressure and opening, 2 A p
 */
export function findActivity(blocks: Blocks, expected_N: number): readonly Stretch[] {
  const sum = summed(blocks);
  const lag = Math.max(1, Math.round(lag_s / blocks.step_s));
  const sharp = changesOf(sum, lag);
  const slow = changesOf(movingMean(sum, lag), lag);
  const least_N = leastPart * expected_N;
  const sharpest = Math.max(deviations * quantile(sharp, 0.5) * ofMedian, least_N);
  const slowest = Math.max(deviations * quantile(slow, 0.5) * ofMedian, least_N);
  const join = Math.round(join_s / blocks.step_s);

  const stretches: { from: number; to: number }[] = [];
  for (let i = 0; i < sharp.length; i++) {
    // The mean that starts at i and the one a lag later: the change lies between their middles.
    const moves = sharp[i]! > sharpest || (i >= lag / 2 && slow[i - Math.floor(lag / 2)]! > slowest);
    if (!moves) continue;
    const open = stretches.at(-1);
    // A change over the lag ending here began somewhere within it.
    if (open !== undefined && i <= open.to + join) open.to = i + lag;
    else stretches.push({ from: i, to: i + lag });
  }
  return stretches;
}

function changesOf(values: Float64Array, lag: number): Float64Array {
  const changes = new Float64Array(Math.max(0, values.length - lag));
  for (let i = 0; i < changes.length; i++) changes[i] = Math.abs(values[i + lag]! - values[i]!);
  return changes;
}

function movingMean(values: Float64Array, width: number): Float64Array {
  const means = new Float64Array(Math.max(0, values.length - width + 1));
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    sum += values[i]!;
    if (i >= width) sum -= values[i - width]!;
    if (i >= width - 1) means[i - width + 1] = sum / width;
  }
  return means;
}

/** Of at most some thousand strided values; enough for a threshold. */
function quantile(values: Float64Array, part: number): number {
  const stride = Math.max(1, Math.floor(values.length / 5000));
  const look: number[] = [];
  for (let i = 0; i < values.length; i += stride) look.push(values[i]!);
  const sorted = Float64Array.from(look).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0;
}
