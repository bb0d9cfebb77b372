import type { Blocks } from "./blocks.ts";
import { fillGaps } from "./gaps.ts";
import { findRinging, type Ringing, type Swing } from "./ringing.ts";
import type { Span } from "./span.ts";
import type { Trace } from "./trace.ts";

/** The samples around one event, in newtons upward as read, gaps drawn and their cost known. */
export type EventWindow = {
  /** Number of the first sample in the record. */
  readonly first: number;
  readonly count: number;
  readonly rate_Hz: number;
  /** The stretch in samples of the window. */
  readonly from: number;
  readonly to: number;
  /** Sample from which nothing pushes. */
  readonly tail: number;
  readonly channels: readonly WindowChannel[];
  readonly ringing: Ringing | undefined;
};

export type WindowChannel = {
  readonly force_N: Float64Array;
  /** 1 where the channel stood at its limit; absent where it never did. */
  readonly clipped?: Uint8Array;
  readonly missing: number;
  /** Standard uncertainty of the area drawn into gaps. */
  readonly u_filled_Ns: number;
};

/** Room before the stretch for the noise, and after it for the ringing to average out. */
const before_s = 0.1;
const after_s = 0.3;

export function cutWindow(trace: Trace, blocks: Blocks, span: Span, fill: boolean): EventWindow {
  const { rate_Hz } = trace;
  const first = Math.max(
    span.quietFrom * blocks.size,
    span.from * blocks.size - Math.round(before_s * rate_Hz),
    0,
  );
  const end = Math.min(
    trace.samples,
    Math.max(span.tailTo, span.tailFrom) * blocks.size,
    span.tailFrom * blocks.size + Math.round(after_s * rate_Hz),
  );
  const from = span.from * blocks.size - first;
  const to = span.to * blocks.size - first;
  const tail = span.tailFrom * blocks.size - first;
  const cut = trace.channels.map(({ values, plan, clipping }) => {
    const force_N = new Float64Array(end - first);
    const missing = new Uint8Array(end - first);
    const clipped = new Uint8Array(end - first);
    let holes = 0;
    let limits = 0;
    for (let i = 0; i < force_N.length; i++) {
      const x = values[first + i]!;
      force_N[i] = x * plan.toNewton;
      if (Number.isNaN(x)) holes += missing[i] = 1;
      else if (x === clipping.above || x === clipping.below) limits += clipped[i] = 1;
    }
    // A straight line first: the mode is found across it, then drawn into it.
    if (holes > 0) fillGaps(force_N, missing, rate_Hz, undefined, from);
    return { force_N, missing, clipped, holes, limits };
  });
  const sum = sumOf(cut.map((c) => c.force_N));
  const bounds = pushBounds(sum, from, to);
  const ringing = findRinging(swingsOf(sum, bounds, rate_Hz), rate_Hz);
  const channels = cut.map(({ force_N, missing, clipped, holes, limits }) => ({
    force_N,
    missing: holes,
    ...(limits > 0 && { clipped }),
    u_filled_Ns: holes > 0 && fill ? fillGaps(force_N, missing, rate_Hz, ringing, bounds.start) : 0,
  }));
  return { first, count: end - first, rate_Hz, from, to, tail, channels, ringing };
}

/** The start's own spike is over, the ringing not yet. */
const afterStart_s = 0.008;
const swing_s = 0.06;

const startPart = 0.03;
const fallPart = 0.12;

function sumOf(channels: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(channels[0]!.length);
  for (const channel of channels) for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + channel[i]!;
  return sum;
}

/** Roughly where the push begins and where it has fallen off: for what needs no better marks. */
function pushBounds(
  sum: Float64Array,
  from: number,
  to: number,
): { readonly start: number; readonly fall: number } {
  const before = sum[from]!;
  // What is left at the end of the stretch may be the weight or the discharge: the fall is towards that.
  const after = sum[to - 1]!;
  let peak = 0;
  for (let i = from; i < to; i++) peak = Math.max(peak, Math.abs(sum[i]! - before));
  let start = from;
  while (start < to && Math.abs(sum[start]! - before) < startPart * peak) start++;
  let fall = to - 1;
  while (fall > start && Math.abs(sum[fall]! - after) < fallPart * peak) fall--;
  return { start, fall };
}

/** Where the stand rings about something smooth: soon after the start, and after the water's end. */
function swingsOf(
  samples: Float64Array,
  { start, fall }: { start: number; fall: number },
  rate_Hz: number,
): Swing[] {
  const length = Math.round(swing_s * rate_Hz);
  const skipped = Math.round(afterStart_s * rate_Hz);
  const first = start + skipped;
  return [
    { samples, from: first, to: Math.min(first + length, fall - skipped) },
    { samples, from: fall, to: Math.min(fall + length, samples.length) },
  ];
}
