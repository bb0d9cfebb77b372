import type { Extremes } from "./clipping.ts";

/**
 * Single samples that no stand can make: far beyond all six neighbours, by more than those differ among
 * themselves. A digit too many in the file, a burst on the line; ringing sampled too slowly stays in.
 * @returns their places, first to last
 */
export function findStrays(values: Float64Array, { least, greatest }: Extremes): readonly number[] {
  const found: number[] = [];
  // Only a leap over a good part of the record's range is worth a look: this keeps the pass short.
  const leap = Math.max(leapPart * (greatest - least), noisy * usualStep(values));
  if (!(leap > 0)) return found;
  for (let i = 1; i < values.length; i++) {
    const step = values[i]! - values[i - 1]!;
    if (!(step > leap || step < -leap)) continue;
    if (isStray(values, i, leap)) found.push(i);
    else if (i === 1 && isStray(values, 0, leap)) found.push(0);
  }
  return found;
}

const leapPart = 0.25;
/** Usual steps that noise alone may leap. */
const noisy = 12;
const beyond = 4;

function isStray(values: Float64Array, at: number, leap: number): boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let seen = 0;
  // Three to a side: at a third of the rate a stand that rings has every third sample alone at a crest.
  for (const i of [at - 3, at - 2, at - 1, at + 1, at + 2, at + 3]) {
    const x = values[i];
    if (x === undefined || Number.isNaN(x)) continue;
    low = Math.min(low, x);
    high = Math.max(high, x);
    seen++;
  }
  if (seen < 2) return false;
  const x = values[at]!;
  const room = Math.max(beyond * (high - low), leap);
  return x > high + room || x < low - room;
}

/** Median of the steps between neighbours, from at most some thousand of them. */
function usualStep(values: Float64Array): number {
  const stride = Math.max(1, Math.floor(values.length / 2000));
  const steps: number[] = [];
  for (let i = 1; i < values.length; i += stride) {
    const step = Math.abs(values[i]! - values[i - 1]!);
    if (!Number.isNaN(step)) steps.push(step);
  }
  return Float64Array.from(steps).sort()[steps.length >> 1] ?? 0;
}
