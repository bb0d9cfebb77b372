import type { ShotSetup } from "../exchange/setup-shot.ts";
import { type Closure, closeBalance } from "./closure.ts";
import type { Switches } from "./corrections.ts";
import { byHand, envelope_Hz, expel, type HandMarks, type Stand } from "./expulsion.ts";
import { areaBetween, fadingArea } from "./impulse.ts";
import { lowPass } from "./low-pass.ts";
import { crossings, findOnset, greatest, type Marks, noise } from "./marks.ts";
import { withoutRinging } from "./ringing.ts";
import type { Separated } from "./separate.ts";
import type { Trace } from "./trace.ts";
import type { Outflow } from "./weight.ts";
import type { EventWindow } from "./window.ts";

/** One event in numbers and in series over its window; everything upward and in SI. */
export type Measured = {
  /** In samples of the window, fractions meant. */
  readonly marks: Marks;
  readonly onset_u: number;
  /** False where nothing falls steeply: the weight is then taken to leave until the thrust ends. */
  readonly waterEndSeen: boolean;
  readonly noise_N: number;
  /** Felt by all channels together: zeroed, discharge undone, the stopper's step put back. */
  readonly stand_N: Float64Array;
  readonly stopper_N: number;
  readonly weight_N: Float64Array;
  readonly thrust_N: Float64Array;
  /** Thrust after the 60 Hz zero-phase low-pass. */
  readonly envelope_N: Float64Array;
  readonly outflow: Outflow;
  readonly impulse_Ns: number;
  readonly fadingArea_Ns: number;
  /** Samples there are after the end, for ringing to average out. */
  readonly settledSamples: number;
  readonly thrustPeak_N: number;
  readonly thrustPeakAsRead_N: number;
  readonly burn_s: number;
  readonly thrustMean_N: number;
  readonly shares: readonly number[];
  /** The level left on the stand soon after the end, all channels together, by the fit not told of it. */
  readonly endLevel_N: number;
  readonly closure: Closure;
};

const skipped_s = 0.01;
const burnPart = 0.05;
/** The push starts and the weight leaves before the onset is seen; the integral begins this much earlier. */
const lead_s = 0.003;
/** A leak before it is too weak for single samples: means this long, this many of their deviations. */
const mean_s = 0.005;
const meansOut = 4;

export function measure(
  trace: Trace,
  window: EventWindow,
  separated: Separated,
  shot: ShotSetup,
  switches: Switches,
  hand: HandMarks = {},
): Measured {
  const { rate_Hz, count } = window;
  const stand = findStand(window, separated, shot, switches, hand);
  const { onset, noise_N, stand_N, stopper_N } = stand;
  const { waterEnd, waterEndSeen, end, outflow, thrust_N } = expel(window, stand, shot, switches, hand);
  const envelope_N = lowPass(thrust_N, rate_Hz, envelope_Hz);
  const a = Math.round(onset + skipped_s * rate_Hz);
  const b = Math.min(count - 1, Math.ceil(end));
  const thrustPeak_N = greatest(envelope_N, Math.min(a, b), b);
  const fading = fadingArea(thrust_N, onset, end, rate_Hz);
  const start = firstPush(thrust_N, window, onset, noise_N);
  const impulse_Ns = areaBetween(thrust_N, start, end, rate_Hz) + fading.area_Ns;
  const burn = burnMarks(thrust_N, window, onset, end, burnPart * thrustPeak_N);
  const burn_s = (burn.last - burn.first) / rate_Hz;
  return {
    marks: { onset, waterEnd, end },
    onset_u: stand.onset_u,
    waterEndSeen: waterEndSeen || hand.waterEnd_s !== undefined,
    noise_N,
    stand_N,
    stopper_N,
    weight_N: outflow.gone_kg.map((kg) => kg * shot.gravity_m_s2),
    thrust_N,
    envelope_N,
    outflow,
    impulse_Ns,
    fadingArea_Ns: fading.area_Ns,
    settledSamples: fading.length,
    thrustPeak_N,
    thrustPeakAsRead_N: greatestSample(trace, window, thrust_N, Math.floor(onset), b),
    burn_s,
    thrustMean_N: burn_s > 0 ? areaBetween(thrust_N, burn.first, burn.last, rate_Hz) / burn_s : 0,
    shares: sharesOf(separated, start, end, rate_Hz),
    endLevel_N: stand.level_N,
    closure: closeBalance(outflow, rate_Hz, Math.round(onset), Math.round(waterEnd), shot),
  };
}

/** Where the integral begins: before the onset as long as short means stand out of the noise. */
function firstPush(
  thrust_N: Float64Array,
  { rate_Hz, from }: EventWindow,
  onset: number,
  noise_N: number,
): number {
  const width = Math.max(1, Math.round(mean_s * rate_Hz));
  const least_N = (meansOut * noise_N) / Math.sqrt(width);
  let start = onset - lead_s * rate_Hz;
  const meanBefore = (x: number) => (areaBetween(thrust_N, x - width, x, rate_Hz) * rate_Hz) / width;
  while (start - width >= from && meanBefore(start) > least_N) start -= width;
  return start;
}

/** All channels together from the onset on, a stopper's push from outside put back. */
function findStand(
  window: EventWindow,
  separated: Separated,
  shot: ShotSetup,
  switches: Switches,
  hand: HandMarks,
): Stand & { readonly onset_u: number; readonly noise_N: number; readonly stopper_N: number } {
  const { rate_Hz, count, from, to } = window;
  const sum = new Float64Array(count);
  for (const { force_N } of separated.channels)
    for (let i = 0; i < count; i++) sum[i] = sum[i]! + force_N[i]!;
  const weightGone_N = shot.water_kg * shot.gravity_m_s2;
  const level_N = separated.fit.channels.reduce((a, c) => a + c.level_N, 0);
  const stopper_N = shot.stopperHeld === "outside" ? weightGone_N - level_N : 0;
  const omega = (2 * Math.PI * (window.ringing?.frequency_Hz ?? 150)) / rate_Hz;
  const dip = stopper_N > 0 ? { step_N: stopper_N, omega } : undefined;
  const searched = findOnset(sum, Math.max(from, 2), Math.min(count, to), dip);
  const onset = hand.onset_s === undefined ? searched.onset : byHand(window, hand.onset_s);
  const putBack_N = switches.stopper ? stopper_N : 0;
  // A damped stand answers a step late, by 2ζ/ω in the mean: from there the area is right.
  const stepAt = onset + (2 * (window.ringing?.damping ?? 0)) / omega;
  const stand_N = sum.map((x, i) => x + putBack_N * Math.max(0, Math.min(1, i + 0.5 - stepAt)));
  const noise_N = noise(sum, Math.max(2, from)).deviation;
  return { stand_N, onset, onset_u: searched.u, noise_N, level_N, putBack_N, stopper_N };
}

function sharesOf(separated: Separated, from: number, to: number, rate_Hz: number): readonly number[] {
  const felt = separated.channels.map(({ force_N }) => areaBetween(force_N, from, to, rate_Hz));
  const total = felt.reduce((x, y) => x + y, 0);
  return felt.map((x) => x / total);
}

/** First and last crossing of 5 % of the peak: the rise as read, the fall with the ringing taken out. */
function burnMarks(thrust_N: Float64Array, window: EventWindow, onset: number, end: number, level: number) {
  const smooth = withoutRinging(thrust_N, window.rate_Hz, window.ringing, envelope_Hz);
  const from = Math.max(1, Math.floor(onset));
  const to = Math.min(thrust_N.length - 1, Math.ceil(end) + 1);
  const rise = crossings(thrust_N, from, to, level);
  const fall = crossings(smooth, from, to, level);
  return { first: rise?.first ?? onset, last: fall?.last ?? end };
}

/** The largest corrected sample as the recorder took it, also where the window holds means of several. */
function greatestSample(
  trace: Trace,
  window: EventWindow,
  thrust_N: Float64Array,
  from: number,
  to: number,
): number {
  const { each, first, channels } = window;
  if (each === 1) return greatest(thrust_N, from, to);
  let best = Number.NEGATIVE_INFINITY;
  for (let j = Math.max(0, from); j <= to && j < thrust_N.length; j++) {
    const mean = channels.reduce((sum, { force_N }) => sum + force_N[j]!, 0);
    for (let i = first + j * each; i < first + (j + 1) * each; i++) {
      let sample = 0;
      for (const { values, plan } of trace.channels) sample += values[i]! * plan.toNewton;
      const corrected = thrust_N[j]! + sample - mean;
      if (corrected > best) best = corrected;
    }
  }
  return best;
}
