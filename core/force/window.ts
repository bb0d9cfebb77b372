import type { Blocks } from "./blocks.ts";
import { fillGaps } from "./gaps.ts";
import { findHum, humAt } from "./hum.ts";
import { findRinging, type Ringing, type Swing } from "./ringing.ts";
import type { Span } from "./span.ts";
import type { Trace, TraceChannel } from "./trace.ts";

/** The samples around one event, in newtons upward as read, gaps drawn and their cost known. */
export type EventWindow = {
  /** Number of the window's first sample in the record, and how many of the record's make one of the window's. */
  readonly first: number;
  readonly each: number;
  readonly count: number;
  readonly rate_Hz: number;
  /** Time of the window's first sample in the file's own clock. */
  readonly start_s: number;
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
  /** Mains hum at each sample; absent where nothing hums. */
  readonly hum_N?: Float64Array;
};

/** Room before the stretch for the noise, and after it for the ringing to average out. */
const before_s = 0.1;
const after_s = 0.3;

/** Beyond this rate samples are averaged: no stand rings fast enough to miss them, and nothing is lost of the area. */
const enough_Hz = 10_000;

export function cutWindow(trace: Trace, blocks: Blocks, span: Span, fill: boolean): EventWindow {
  const each = greatestDivisor(blocks.size, trace.rate_Hz / enough_Hz);
  const rate_Hz = trace.rate_Hz / each;
  const inBlock = blocks.size / each;
  const first = Math.max(span.quietFrom * inBlock, span.from * inBlock - Math.round(before_s * rate_Hz), 0);
  const end = Math.min(
    Math.floor(trace.samples / each),
    Math.max(span.tailTo, span.tailFrom) * inBlock,
    span.tailFrom * inBlock + Math.round(after_s * rate_Hz),
  );
  const from = span.from * inBlock - first;
  const to = Math.min(span.to * inBlock, end) - first;
  const tail = span.tailFrom * inBlock - first;
  const cut = trace.channels.map((channel) => {
    const samples = cutChannel(channel, first * each, end - first, each);
    // A straight line first: the push is found across it, then the mode that is drawn into it.
    if (samples.holes > 0) fillGaps(samples.force_N, samples.missing, rate_Hz, undefined, from);
    return samples;
  });
  const filled = cut.map(() => 0);
  const sum = sumOf(cut.map((samples) => samples.force_N));
  const bounds = pushBounds(sum, from, to);
  const missing = cut.some((samples) => samples.holes > 0)
    ? anyOf(cut.map((samples) => samples.missing))
    : undefined;
  const ringing = findRinging(swingsOf(sum, bounds, rate_Hz, missing), rate_Hz);
  for (const [c, samples] of cut.entries()) {
    if (samples.holes === 0 || !fill) continue;
    filled[c] = fillGaps(samples.force_N, samples.missing, rate_Hz, ringing, bounds.start);
  }
  const channels = cut.map(({ force_N, clipped, holes, limits }, c) => ({
    force_N,
    missing: holes,
    ...(limits > 0 && { clipped }),
    u_filled_Ns: filled[c]!,
    ...humOf(blocks, c, span, first, end - first, each, trace.rate_Hz),
  }));
  const start_s = trace.start_s + (first * each + (each - 1) / 2) / trace.rate_Hz;
  return {
    first: first * each,
    each,
    count: end - first,
    rate_Hz,
    start_s,
    from,
    to,
    tail,
    channels,
    ringing,
  };
}

/** The quiet's hum, carried on through the window. */
function humOf(
  blocks: Blocks,
  channel: number,
  span: Span,
  first: number,
  count: number,
  each: number,
  rate_Hz: number,
) {
  const hum = findHum(blocks, channel, span.quietFrom, span.from);
  if (hum === undefined) return {};
  const since = (i: number) => ((first + i + 0.5) * each - hum.fromBlock * blocks.size) / rate_Hz;
  return { hum_N: Float64Array.from({ length: count }, (_, i) => humAt(hum, since(i))) };
}

/** The largest whole part of a block that is not above what is wanted. */
function greatestDivisor(size: number, wanted: number): number {
  let divisor = Math.max(1, Math.floor(wanted));
  while (size % divisor !== 0) divisor--;
  return divisor;
}

/** Samples in newtons; one is missing where none of its parts is there, and at the limit where any part is. */
function cutChannel({ values, plan, clipping }: TraceChannel, first: number, count: number, each: number) {
  const force_N = new Float64Array(count);
  const missing = new Uint8Array(count);
  const clipped = new Uint8Array(count);
  let holes = 0;
  let limits = 0;
  for (let j = 0, i = first; j < count; j++) {
    let sum = 0;
    let present = 0;
    for (const end = i + each; i < end; i++) {
      const x = values[i]!;
      if (Number.isNaN(x)) continue;
      sum += x;
      present++;
      if (x === clipping.above || x === clipping.below) clipped[j] = 1;
    }
    force_N[j] = present > 0 ? (sum / present) * plan.toNewton : 0;
    missing[j] = present > 0 ? 0 : 1;
    holes += missing[j]!;
    limits += clipped[j]!;
  }
  return { force_N, missing, clipped, holes, limits };
}

/** The start's own spike is over, the ringing not yet. */
const afterStart_s = 0.008;
const swing_s = 0.08;

const startPart = 0.03;
const fallPart = 0.12;

function sumOf(channels: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(channels[0]!.length);
  for (const channel of channels) for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + channel[i]!;
  return sum;
}

/** 1 where any channel misses a sample. */
const anyOf = (masks: readonly Uint8Array[]): Uint8Array =>
  masks[0]!.map((_, i) => (masks.some((mask) => mask[i] === 1) ? 1 : 0));

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
  missing: Uint8Array | undefined,
): Swing[] {
  const given = { samples, ...(missing && { missing }) };
  const length = Math.round(swing_s * rate_Hz);
  const skipped = Math.round(afterStart_s * rate_Hz);
  const first = start + skipped;
  return [
    { ...given, from: first, to: Math.min(first + length, fall - skipped) },
    { ...given, from: fall, to: Math.min(fall + length, samples.length) },
  ];
}
