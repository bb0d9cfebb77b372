import {
  type Budget,
  type Contribution,
  type Correlation,
  combine,
  correlationOf,
} from "../uncertainty/budget.ts";
import { baselineKeys } from "./baseline.ts";
import { areaBetween } from "./impulse.ts";
import type { Measured } from "./measure.ts";
import type { Separated } from "./separate.ts";
import type { TraceChannel } from "./trace.ts";
import type { EventWindow } from "./window.ts";

export type ImpulseSource =
  | "calibration"
  | `zero ${string}`
  | `discharge ${string}`
  | "weight"
  | "water end"
  | "stopper"
  | "noise"
  | "after the end"
  | "sampling"
  | "gaps"
  | "clipping";

/** Lines that rest on judgement: an uncertainty known to a quarter of itself (GUM G.4.2). */
const judged = 8;
/** The water's mass, and the law by which it leaves. */
const weightRelU = 0.006;
/** Where nothing shows when the water ended: between leaving evenly and leaving as the root of the thrust. */
const unknownLawRelU = 0.2;
/** The surface in the neck, the last water with the air. */
const waterEnd_u_s = 0.0012;
/** Of the area after the end, which is ringing and what was too weak to see. */
const afterRelU = 0.15;
/** Mains hum does not average out over a burn that is no whole number of its periods. */
const hum_rad_s = 2 * Math.PI * 50;

/**
 * The budget of the total impulse, every line in newton seconds. Zero and discharge of each channel come
 * from one fit and are correlated; channels calibrated together share one line.
 * @source docs/uncertainty.md
 */
export function impulseBudget(
  window: EventWindow,
  channels: readonly TraceChannel[],
  separated: Separated,
  measured: Measured,
  calibratedTogether: boolean,
): { readonly budget: Budget<ImpulseSource>; readonly withoutCalibration: Budget<ImpulseSource> } {
  const { rate_Hz } = window;
  const { onset, waterEnd, end } = measured.marks;
  const burn_s = (end - onset) / rate_Hz;
  const impulse = Math.abs(measured.impulse_Ns);
  const lines: Contribution<ImpulseSource>[] = [];
  const correlations: Correlation[] = [];
  addBaseline(window, channels, separated, measured, lines, correlations);
  const add = (source: ImpulseSource, u: number, freedom: number) => {
    if (u > 0) lines.push({ source, u, freedom });
  };
  const weightArea_Ns = areaBetween(measured.weight_N, onset, end, rate_Hz);
  const weight_N = measured.weight_N.at(-1)!;
  const lawRelU = measured.waterEndSeen ? weightRelU : unknownLawRelU;
  add("weight", lawRelU * weightArea_Ns, judged);
  add("water end", 0.5 * waterEnd_u_s * weight_N, judged);
  if (measured.stopper_N !== 0) {
    const onset_u_s = Math.max(measured.onset_u / rate_Hz, 2e-4);
    add("stopper", Math.abs(measured.stopper_N) * onset_u_s, judged);
  }
  const white = measured.noise_N * Math.sqrt(burn_s / rate_Hz);
  add("noise", Math.hypot(white, measured.noise_N / hum_rad_s), Math.max(1, Math.round(onset)));
  add("after the end", afterRelU * Math.abs(measured.fadingArea_Ns), judged);
  add("sampling", samplingArea(window, measured), judged);
  add("gaps", Math.hypot(...window.channels.map((c) => c.u_filled_Ns)), judged);
  add("clipping", rebuiltArea(window, separated, onset, waterEnd), judged);

  const withoutCalibration = combine(lines, correlations);
  const parts = channels.map((c, i) => Math.abs(measured.shares[i]! * c.plan.setup.sensitivityRelU));
  // One reference mass for all channels: their errors are one error and add up; apart they do not.
  const relU = calibratedTogether ? parts.reduce((a, b) => a + b, 0) : Math.hypot(...parts);
  const all: Contribution<ImpulseSource>[] = [
    ...lines,
    { source: "calibration", u: relU * impulse, freedom: Number.POSITIVE_INFINITY },
  ];
  return { budget: combine(all, correlations), withoutCalibration };
}

/** How the impulse follows the fit: ∂I/∂ of zero, drift, memory, 1/τ and level, per channel. */
function addBaseline(
  window: EventWindow,
  channels: readonly TraceChannel[],
  separated: Separated,
  measured: Measured,
  lines: Contribution<ImpulseSource>[],
  correlations: Correlation[],
) {
  const { rate_Hz, from } = window;
  const { fit } = separated;
  const p = baselineKeys.length;
  const n = p * channels.length;
  const t1 = (measured.marks.onset - from) / rate_Hz;
  const t2 = (measured.marks.end - from) / rate_Hz;
  const moment = (power: number) => (t2 ** (power + 1) - t1 ** (power + 1)) / (power + 1);
  const gradients: { readonly source: ImpulseSource; readonly at: Float64Array }[] = [];
  for (const [c, channel] of channels.entries()) {
    const k = fit.channels[c]!.inverse_1_s;
    const zero = new Float64Array(n);
    zero[p * c] = -(moment(0) + k * moment(1));
    zero[p * c + 1] = -(moment(1) + (k / 2) * moment(2));
    zero[p * c + 2] = -moment(0);
    if (measured.stopper_N !== 0) zero[p * c + 4] = -moment(0);
    gradients.push({ source: `zero ${channel.name}`, at: zero });
    const discharge = new Float64Array(n);
    discharge[p * c + 3] = dischargedArea(window, separated, c, measured);
    gradients.push({ source: `discharge ${channel.name}`, at: discharge });
  }
  const covariance = (a: Float64Array, b: Float64Array) => {
    let sum = 0;
    for (let i = 0; i < n; i++) {
      if (a[i] === 0) continue;
      for (let j = 0; j < n; j++) sum += a[i]! * b[j]! * fit.covariance[i * n + j]!;
    }
    return sum;
  };
  const kept = gradients
    .map((g) => ({ ...g, u: Math.sqrt(Math.max(0, covariance(g.at, g.at))) }))
    .filter((g) => g.u > 0);
  const first = lines.length;
  for (const { source, u } of kept) lines.push({ source, u, freedom: fit.freedom });
  for (let i = 0; i < kept.length; i++) {
    for (let j = i + 1; j < kept.length; j++) {
      const r = correlationOf(covariance(kept[i]!.at, kept[j]!.at), kept[i]!.u, kept[j]!.u);
      if (Math.abs(r) > 1e-6) correlations.push({ first: first + i, second: first + j, r });
    }
  }
}

/** ∫∫y over the burn: what one unit of 1/τ adds to the impulse. */
function dischargedArea(
  window: EventWindow,
  { fit, channels }: Separated,
  c: number,
  { marks }: Measured,
): number {
  const k = fit.channels[c]!.inverse_1_s;
  const { force_N, discharge_N } = channels[c]!;
  if (k > 1e-6) return areaBetween(discharge_N, marks.onset, marks.end, window.rate_Hz) / k;
  let integral = 0;
  const running = force_N.map((x, i) => {
    if (i >= marks.onset) integral += x / window.rate_Hz;
    return integral;
  });
  return areaBetween(running, marks.onset, marks.end, window.rate_Hz);
}

/**
 * Sums miss what happens between samples. For a mode at frequency f the trapezoidal rule is off by about
 * (πfΔt)²/24 of the area of one of its half swings: a bound by judgement, from SYNTHETIC records.
 */
function samplingArea({ rate_Hz, ringing }: EventWindow, measured: Measured): number {
  const f = ringing?.frequency_Hz ?? 60;
  const swing_Ns = Math.max(0, measured.thrustPeakAsRead_N) / (Math.PI * f);
  return (swing_Ns * ((Math.PI * f) / rate_Hz) ** 2) / 24;
}

function rebuiltArea(window: EventWindow, separated: Separated, onset: number, end: number): number {
  let square = 0;
  for (const [c, found] of separated.standIns.entries()) {
    if (found === undefined) continue;
    let area = 0;
    for (let i = Math.max(0, Math.floor(onset)); i < end; i++) {
      if (window.channels[c]!.clipped![i] === 1) area += Math.abs(found.force_N[i]!) / window.rate_Hz;
    }
    square += ((found.u_ratio / found.ratio) * area) ** 2 + found.u_Ns ** 2;
  }
  return Math.sqrt(square);
}
