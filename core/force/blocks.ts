import type { Trace } from "./trace.ts";

/**
 * The record in means over a millisecond or so: enough to see where something happens and to fit what
 * is slow, a small part of the samples of a fast recorder.
 */
export type Blocks = {
  /** Samples in each; the last, incomplete one is left out. */
  readonly size: number;
  readonly step_s: number;
  readonly count: number;
  /** Means in newtons upward, for each channel; NaN where a block holds no sample. */
  readonly means_N: readonly Float64Array[];
};

export function blocksOf(trace: Trace): Blocks {
  const size = Math.max(1, Math.round(trace.rate_Hz / 1000));
  const count = Math.floor(trace.samples / size);
  const means_N = trace.channels.map(({ values, plan }) => {
    const means = new Float64Array(count);
    for (let b = 0, i = 0; b < count; b++) {
      let sum = 0;
      for (const end = i + size; i < end; i++) sum += values[i]!;
      // NaN makes the sum NaN: only then is it worth while to look which samples are there.
      means[b] = (!Number.isNaN(sum) ? sum / size : meanOfPresent(values, i - size, i)) * plan.toNewton;
    }
    return means;
  });
  return { size, step_s: size / trace.rate_Hz, count, means_N };
}

function meanOfPresent(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  let present = 0;
  for (let i = from; i < to; i++) {
    if (Number.isNaN(values[i]!)) continue;
    sum += values[i]!;
    present++;
  }
  return present > 0 ? sum / present : Number.NaN;
}

/** Sum over the channels, moments without a sample continued from the last that had one. */
export function summed(blocks: Blocks): Float64Array {
  const sum = new Float64Array(blocks.count);
  for (const means of blocks.means_N) {
    let last = means.find((x) => !Number.isNaN(x)) ?? 0;
    for (let b = 0; b < blocks.count; b++) {
      const x = means[b]!;
      if (!Number.isNaN(x)) last = x;
      sum[b] = sum[b]! + last;
    }
  }
  return sum;
}
