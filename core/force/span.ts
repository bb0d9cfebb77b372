import type { Stretch } from "./activity.ts";
import type { ChannelPoints } from "./baseline.ts";
import type { Blocks } from "./blocks.ts";

/** Where one event lies and how much quiet surrounds it; all in blocks. */
export type Span = {
  readonly quietFrom: number;
  /** The stretch in which something happens. */
  readonly from: number;
  readonly to: number;
  /** From here nothing pushes any more, not even what is too weak to be seen. */
  readonly tailFrom: number;
  readonly tailTo: number;
  /** The tail ends at a jump: somebody or something moved the stand. */
  readonly disturbed: boolean;
};

/** One period of mains hum; its mean is free of 50 Hz and nearly of 60 Hz. */
const point_s = 0.02;
const longestQuiet_s = 2;
const longestTail_s = 20;
const leastPoints = 5;
/** A long burn fades slowly: its tail begins this part of its length later. */
const fadePart = 0.15;
/** A point this many deviations off the line through its neighbours belongs to something else. */
const jump = 6;
const tailNeighbours = 8;
/** Points before a stretch that may belong to it, and how many are looked at with those that foretell them. */
const nearPoints = 5;
const lookBack = 25;

export const pointBlocks = (blocks: Blocks): number => Math.max(1, Math.round(point_s / blocks.step_s));

/**
 * Takes as much quiet before and after a stretch as belongs to it: up to the neighbours, and only as
 * far as the zero runs on smoothly, so that a hand on the stand a second earlier stays out.
 * @param wait_s  left out between the stretch and its tail, beyond what its length calls for
 */
export function surround(
  blocks: Blocks,
  stretch: Stretch,
  earliest: number,
  latest: number,
  wait_s = 0,
): Span {
  const size = pointBlocks(blocks);
  const from = earlyStart(blocks, stretch.from, earliest);
  const quiet = Math.round(longestQuiet_s / blocks.step_s);
  const tail = Math.round(longestTail_s / blocks.step_s);
  const before = smoothRun(blocks, from, Math.max(earliest, from - quiet), -size, Number.POSITIVE_INFINITY);
  const tailFrom = Math.min(
    latest,
    stretch.to + Math.round(fadePart * (stretch.to - stretch.from) + wait_s / blocks.step_s),
  );
  const tailEnd = Math.min(latest, tailFrom + tail);
  const tailTo = smoothRun(blocks, tailFrom, tailEnd, size, tailNeighbours);
  return {
    quietFrom: before,
    from,
    to: stretch.to,
    tailFrom,
    tailTo,
    disturbed: tailTo < tailEnd,
  };
}

/**
 * A valve that leaks pushes before anything moves sharply. The points just before the stretch join it where
 * they stand off the line through earlier ones, one after the other.
 */
function earlyStart(blocks: Blocks, from: number, earliest: number): number {
  const size = pointBlocks(blocks);
  const points: number[] = [];
  for (let b = from - size; b >= earliest && points.length < lookBack; b -= size)
    points.unshift(sumOver(blocks, b, size));
  const sure = points.slice(0, -nearPoints);
  if (sure.length < nearPoints) return from;
  const line = lineThrough(sure);
  const limit = jump * Math.max(medianStep(sure), line.deviation) * Math.sqrt(1 + 4 / line.count);
  let joined = 0;
  while (joined < nearPoints && Math.abs(points.at(-1 - joined)! - line.ahead(nearPoints - joined)) > limit)
    joined++;
  return from - joined * size;
}

/** @param neighbours  points by which the next is foretold: few where a discharge bends the line, all where nothing does */
function smoothRun(blocks: Blocks, start: number, end: number, step: number, neighbours: number): number {
  const points: number[] = [];
  const size = Math.abs(step);
  for (let b = start; step > 0 ? b + size <= end : b - size >= end; b += step) {
    points.push(sumOver(blocks, step > 0 ? b : b - size, size));
  }
  const scatter = medianStep(points);
  for (let i = leastPoints; i + 1 < points.length; i++) {
    const near = lineThrough(points.slice(Math.max(0, i - neighbours), i));
    // What the neighbours themselves wander, by ringing that still dies away, is no jump.
    const limit = jump * Math.max(scatter, near.deviation) * Math.sqrt(1 + 4 / near.count);
    // Two in a row, so that one disturbed point does not end the run.
    if (Math.abs(points[i]! - near.ahead(1)) > limit && Math.abs(points[i + 1]! - near.ahead(2)) > limit) {
      return start + (i - 1) * step;
    }
  }
  return end;
}

function sumOver(blocks: Blocks, from: number, size: number): number {
  let sum = 0;
  for (const means of blocks.means_N) {
    let part = 0;
    let n = 0;
    for (let b = from; b < from + size; b++) {
      if (Number.isNaN(means[b]!)) continue;
      part += means[b]!;
      n++;
    }
    sum += n > 0 ? part / n : 0;
  }
  return sum;
}

function lineThrough(points: readonly number[]) {
  const n = points.length;
  const middle = (n - 1) / 2;
  const mean = points.reduce((a, b) => a + b, 0) / n;
  let rise = 0;
  let square = 0;
  for (const [i, y] of points.entries()) {
    rise += (i - middle) * y;
    square += (i - middle) ** 2;
  }
  const slope = square > 0 ? rise / square : 0;
  let residual = 0;
  for (const [i, y] of points.entries()) residual += (y - mean - slope * (i - middle)) ** 2;
  return {
    count: n,
    deviation: Math.sqrt(residual / Math.max(1, n - 2)),
    ahead: (by: number) => mean + slope * (middle + by),
  };
}

function medianStep(points: readonly number[]): number {
  const steps = points.slice(1).map((x, i) => Math.abs(x - points[i]!));
  steps.sort((a, b) => a - b);
  return ((steps[steps.length >> 1] ?? 0) * 1.4826) / Math.SQRT2 + 1e-12;
}

/**
 * Points for the baseline fit of one channel: means over a period of hum with the integral that the
 * channel's discharge has seen by then. Time and integral count from the stretch's start.
 * @param area_Ns  under the channel from the stretch's start to the tail's, as read
 */
export function baselinePoints(blocks: Blocks, channel: number, span: Span, area_Ns: number): ChannelPoints {
  const found = {
    t_s: [] as number[],
    force_N: [] as number[],
    integral_Ns: [] as number[],
    after: [] as number[],
  };
  const means = blocks.means_N[channel]!;
  const { step_s } = blocks;
  const size = pointBlocks(blocks);
  const collect = (from: number, to: number, direction: 1 | -1, area_Ns: number, after: 0 | 1) => {
    let integral = area_Ns;
    let last = firstPresent(means, direction > 0 ? from : from - 1, direction);
    for (let b = from; direction > 0 ? b + size <= to : b - size >= to; b += direction * size) {
      let n = 0;
      let sum = 0;
      let area = 0;
      for (let i = 0; i < size; i++) {
        const mean = means[direction > 0 ? b + i : b - 1 - i]!;
        // A block without samples still droops: it is taken to stand where the last one stood.
        if (!Number.isNaN(mean)) {
          last = mean;
          sum += mean;
          n++;
        }
        integral += (direction * last * step_s) / 2;
        area += integral;
        integral += (direction * last * step_s) / 2;
      }
      if (n < size / 2) continue;
      found.t_s.push((b + (direction * size) / 2 - span.from) * step_s);
      found.force_N.push(sum / n);
      found.integral_Ns.push(area / size);
      found.after.push(after);
    }
  };
  collect(span.from, span.quietFrom, -1, 0, 0);
  collect(span.tailFrom, span.tailTo, 1, area_Ns, 1);
  return {
    t_s: Float64Array.from(found.t_s),
    force_N: Float64Array.from(found.force_N),
    integral_Ns: Float64Array.from(found.integral_Ns),
    after: Uint8Array.from(found.after),
  };
}

function firstPresent(means: Float64Array, from: number, direction: 1 | -1): number {
  for (let b = from; b >= 0 && b < means.length; b += direction)
    if (!Number.isNaN(means[b]!)) return means[b]!;
  return 0;
}
