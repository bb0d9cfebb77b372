import type { ShotSetup } from "../exchange/setup-shot.ts";
import { type Closure, closeBalance } from "./closure.ts";
import type { Switches } from "./corrections.ts";
import { areaBetween, fadingArea } from "./impulse.ts";
import { lowPass } from "./low-pass.ts";
import { crossings, findEnd, findOnset, findWaterEnd, type Marks, noise } from "./marks.ts";
import { withoutRinging } from "./ringing.ts";
import type { Separated } from "./separate.ts";
import type { Trace } from "./trace.ts";
import { findOutflow, type Outflow } from "./weight.ts";
import type { EventWindow } from "./window.ts";

/** Marks set by hand, in seconds of the record's clock; what is absent is found. */
export type HandMarks = { readonly onset_s?: number; readonly waterEnd_s?: number; readonly end_s?: number };

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

/** Corner of the envelope: the definition of the peak and of burn time. */
const envelope_Hz = 60;
/** Corner for the force that drives the water: above the start's few milliseconds, below most of the noise. */
const driving_Hz = 150;
const skipped_s = 0.01;
const burnPart = 0.05;
/** The push starts and the weight leaves before the onset is seen; the integral begins this much earlier. */
const lead_s = 0.003;
/** Length over width; common practice, no source. */
const slenderness = 2.5;
const markRounds = 5;
const measurable = 4;
const leastMeasurable = 0.004;

export function measure(
  trace: Trace,
  window: EventWindow,
  separated: Separated,
  shot: ShotSetup,
  switches: Switches,
  hand: HandMarks = {},
): Measured {
  const { rate_Hz, count, from, to, tail } = window;
  const sum = new Float64Array(count);
  for (const { force_N } of separated.channels)
    for (let i = 0; i < count; i++) sum[i] = sum[i]! + force_N[i]!;
  const inWindow = (t_s: number) => (t_s - window.start_s) * rate_Hz;
  const limit = (x: number) => Math.max(1, Math.min(count - 2, x));

  const weightGone_N = shot.water_kg * shot.gravity_m_s2;
  const level_N = separated.fit.channels.reduce((a, c) => a + c.level_N, 0);
  const stopper_N = shot.stopperHeld === "outside" ? weightGone_N - level_N : 0;
  const omega = (2 * Math.PI * (window.ringing?.frequency_Hz ?? 150)) / rate_Hz;
  const dip = stopper_N > 0 ? { step_N: stopper_N, omega } : undefined;
  const searched = findOnset(sum, Math.max(from, 2), Math.min(count, to), dip);
  const onset = hand.onset_s === undefined ? searched.onset : limit(inWindow(hand.onset_s));
  const putBack_N = switches.stopper ? stopper_N : 0;
  // A damped stand answers a step late, by 2ζ/ω in the mean: from there the area is right.
  const stepAt = onset + (2 * (window.ringing?.damping ?? 0)) / omega;
  const stand_N = sum.map((x, i) => x + putBack_N * Math.max(0, Math.min(1, i + 0.5 - stepAt)));

  // The end bounds the search for the water's end, and the weight that left decides the end: round until both rest.
  let end = Math.min(tail, count - 2);
  let waterEnd = end;
  let waterEndSeen = true;
  let outflow: Outflow | undefined;
  let thrust_N = stand_N;
  const noise_N = noise(sum, Math.max(2, from)).deviation;
  const driving_N = withoutRinging(stand_N, rate_Hz, window.ringing, driving_Hz);
  for (let round = 0; round < markRounds; round++) {
    const before = end;
    const fall = findWaterEnd(stand_N, rate_Hz, window.ringing, onset, end, level_N + putBack_N);
    const slug_s = fall === undefined ? 0 : slugTime(driving_N, fall, rate_Hz, shot);
    waterEnd =
      hand.waterEnd_s === undefined
        ? Math.min((fall ?? end) + slug_s * rate_Hz, end)
        : limit(inWindow(hand.waterEnd_s));
    waterEndSeen = fall !== undefined;
    const marks = {
      onset: Math.round(onset),
      neck: Math.round(waterEnd - slug_s * rate_Hz),
      waterEnd: Math.round(waterEnd),
    };
    outflow = findOutflow(driving_N, rate_Hz, marks, bottleOf(shot), shot.gravity_m_s2);
    thrust_N = switches.weight
      ? stand_N.map((x, i) => x - outflow!.gone_kg[i]! * shot.gravity_m_s2)
      : stand_N;
    end =
      hand.end_s !== undefined
        ? limit(inWindow(hand.end_s))
        : lastThrust(thrust_N, window, waterEndSeen ? waterEnd : onset);
    if (round > 0 && Math.abs(end - before) < 1) break;
  }
  const envelope_N = lowPass(thrust_N, rate_Hz, envelope_Hz);
  const a = Math.round(onset + skipped_s * rate_Hz);
  const b = Math.min(count - 1, Math.ceil(end));
  const thrustPeak_N = greatest(envelope_N, Math.min(a, b), b);
  const fading = fadingArea(thrust_N, onset, end, rate_Hz);
  const impulse_Ns = areaBetween(thrust_N, onset - lead_s * rate_Hz, end, rate_Hz) + fading.area_Ns;
  const burn = burnMarks(thrust_N, window, onset, end, burnPart * thrustPeak_N);
  const burn_s = (burn.last - burn.first) / rate_Hz;
  const felt = separated.channels.map(({ force_N }) =>
    areaBetween(force_N, onset - lead_s * rate_Hz, end, rate_Hz),
  );
  const total = felt.reduce((x, y) => x + y, 0);
  return {
    marks: { onset, waterEnd, end },
    onset_u: searched.u,
    waterEndSeen: waterEndSeen || hand.waterEnd_s !== undefined,
    noise_N,
    stand_N,
    stopper_N,
    weight_N: outflow!.gone_kg.map((kg) => kg * shot.gravity_m_s2),
    thrust_N,
    envelope_N,
    outflow: outflow!,
    impulse_Ns,
    fadingArea_Ns: fading.area_Ns,
    settledSamples: fading.length,
    thrustPeak_N,
    thrustPeakAsRead_N: greatestSample(trace, window, thrust_N, Math.floor(onset), b),
    burn_s,
    thrustMean_N: burn_s > 0 ? areaBetween(thrust_N, burn.first, burn.last, rate_Hz) / burn_s : 0,
    shares: felt.map((x) => x / total),
    endLevel_N: level_N,
    closure: closeBalance(outflow!, rate_Hz, Math.round(onset), Math.round(waterEnd), shot),
  };
}

/**
 * The bottle for the weight's law. Where no diameter is given a common bottle's is taken, two and a half
 * times as long as wide: it decides only how fast the flow starts, a few thousandths of the impulse.
 */
export const bottleOf = (shot: ShotSetup) => {
  const diameter_m =
    shot.bottleDiameter_m ?? (shot.bottleVolume_m3 / (slenderness * (Math.PI / 4))) ** (1 / 3);
  return {
    water_kg: shot.water_kg,
    density_kg_m3: shot.waterDensity_kg_m3,
    section_m2: (Math.PI / 4) * Math.max(diameter_m, 1.2 * shot.openingDiameter_m) ** 2,
    neckLength_m: shot.neckLength_m ?? shot.openingDiameter_m,
    opening_m2: (Math.PI / 4) * shot.openingDiameter_m ** 2,
  };
};

/**
 * Once the surface is in the neck only the pressure on the slug pushes, half the thrust, until the neck is
 * empty: length over speed, the speed from the thrust before, T = ρAv².
 */
function slugTime(driving_N: Float64Array, neck: number, rate_Hz: number, shot: ShotSetup): number {
  const before = driving_N[Math.max(0, Math.round(neck - 0.005 * rate_Hz))]!;
  const jet_m2 = (Math.PI / 4) * shot.openingDiameter_m ** 2 * shot.contraction;
  if (!(before > 0)) return 0;
  return Math.min(
    0.006,
    bottleOf(shot).neckLength_m / Math.sqrt(before / (shot.waterDensity_kg_m3 * jet_m2)),
  );
}

/** The last time thrust stands out: of the noise, of what stays level afterwards, of the ringing taken out. */
function lastThrust(thrust_N: Float64Array, window: EventWindow, waterEnd: number): number {
  const { rate_Hz, tail, count } = window;
  const smooth = withoutRinging(thrust_N, rate_Hz, window.ringing, envelope_Hz);
  const settled = thrust_N.subarray(Math.min(tail, count - 2));
  const { mean } = noise(settled, settled.length);
  // Mains hum passes the low-pass, white noise hardly: what is left is seen in the quiet before.
  const left_N = noise(smooth, Math.max(2, window.from - Math.round(0.01 * rate_Hz))).deviation;
  const peak = greatest(smooth, Math.floor(waterEnd * 0.5), Math.ceil(waterEnd));
  const least_N = Math.max(measurable * left_N, leastMeasurable * peak);
  return findEnd(
    smooth.map((x) => x - mean),
    Math.ceil(waterEnd),
    Math.min(tail, count - 1),
    least_N,
  );
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

function greatest(values: Float64Array, from: number, to: number): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let i = Math.max(0, from); i <= to && i < values.length; i++) if (values[i]! > best) best = values[i]!;
  return best;
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
