import { leastSquares } from "../uncertainty/least-squares.ts";
import type { Ringing } from "./ringing.ts";

/**
 * Draws missing samples from their neighbours: a cubic for the thrust and the stand's mode for the
 * ringing, fitted to both sides of each gap.
 * @param samples  filled in place
 * @param missing  1 where a sample is missing
 * @param start  sample at which the push begins, as far as is known
 * @returns standard uncertainty of the area that was filled, newton seconds
 */
export function fillGaps(
  samples: Float64Array,
  missing: Uint8Array,
  rate_Hz: number,
  ringing: Ringing | undefined,
  start: number,
): number {
  let variance = 0;
  for (let i = 0; i < samples.length; i++) {
    if (missing[i] !== 1) continue;
    const from = i;
    while (i < samples.length && missing[i] === 1) i++;
    variance += fillGap(samples, missing, from, i, rate_Hz, ringing, start) ** 2;
  }
  return Math.sqrt(variance);
}

function fillGap(
  samples: Float64Array,
  missing: Uint8Array,
  from: number,
  to: number,
  rate_Hz: number,
  ringing: Ringing | undefined,
  start: number,
): number {
  const gap = to - from;
  const period = ringing === undefined ? 0 : rate_Hz / ringing.frequency_Hz;
  const reach = Math.ceil(Math.max(6, 0.75 * gap, 1.2 * period));
  const seen: number[] = [];
  // What was before the push says nothing about how the stand rings in it.
  const earliest = Math.max(0, from - reach, from > start ? start : 0);
  for (let i = earliest; i < Math.min(samples.length, to + reach); i++) {
    if (missing[i] !== 1) seen.push(i);
  }
  straight(samples, from, to);
  const drawn = samples.slice(from, to);
  const middle = (from + to - 1) / 2;
  const width = reach + gap / 2;
  const basis = (i: number): number[] => {
    const x = (i - middle) / width;
    const row = [1, x, x * x, x * x * x];
    if (ringing === undefined) return row;
    const t = (i - middle) / rate_Hz;
    const omega = 2 * Math.PI * ringing.frequency_Hz;
    const swing = Math.exp(-ringing.damping * omega * t);
    const angle = omega * Math.sqrt(1 - ringing.damping ** 2) * t;
    return [...row, swing * Math.cos(angle), swing * Math.sin(angle)];
  };
  const parameters = basis(middle).length;
  const before = seen.filter((i) => i < from).length;
  // With one side alone a cubic runs away: the straight line stays.
  if (seen.length < parameters + 2 || before < 3 || seen.length - before < 3)
    return straightness(drawn, rate_Hz);
  const fit = leastSquares(
    Float64Array.from(seen.flatMap(basis)),
    Float64Array.from(seen, (i) => samples[i]!),
    parameters,
  );
  if (!fit.determined) return straightness(drawn, rate_Hz);
  const area = new Float64Array(parameters);
  let moved = 0;
  for (let i = from; i < to; i++) {
    const row = basis(i);
    let value = 0;
    for (const [k, x] of row.entries()) {
      value += fit.parameters[k]! * x;
      area[k] = area[k]! + x / rate_Hz;
    }
    moved += (value - samples[i]!) / rate_Hz;
    samples[i] = value;
  }
  let variance = 0;
  for (let j = 0; j < parameters; j++) {
    for (let k = 0; k < parameters; k++) variance += area[j]! * area[k]! * fit.inverse[j * parameters + k]!;
  }
  const scatter = fit.squares / Math.max(1, fit.freedom);
  // A fifth of what the model moved stands for what it does not know: a kink inside the gap.
  return Math.hypot(Math.sqrt(variance * scatter), 0.2 * moved);
}

function straight(samples: Float64Array, from: number, to: number) {
  const left = from > 0 ? samples[from - 1]! : (samples[to] ?? 0);
  const right = to < samples.length ? samples[to]! : left;
  for (let i = from; i < to; i++) samples[i] = left + ((right - left) * (i - from + 1)) / (to - from + 1);
}

/** Where nothing better than a straight line is known, half its rise is in doubt. */
const straightness = (drawn: Float64Array, rate_Hz: number): number =>
  (0.5 * Math.abs((drawn.at(-1) ?? 0) - (drawn[0] ?? 0)) * drawn.length) / rate_Hz;
