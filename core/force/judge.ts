import type { ShotSetup } from "../exchange/setup-shot.ts";
import { lowPass } from "./low-pass.ts";
import { levelOf, type Separated } from "./separate.ts";
import type { EventWindow } from "./window.ts";

/** Why a stretch of the record is taken for a shot, or not. */
export type Verdict = {
  readonly isShot: boolean;
  /** The level left behind is the one that the setup calls for. */
  readonly levelFits: boolean;
  readonly rise_s: number;
  readonly impulse_Ns: number;
  readonly why: string;
};

/** Part of m√(2p/ρ), the impulse of a jet that keeps its first speed, that a shot has. */
const leastImpulse = 0.15;
const greatestImpulse = 2;
/** The right weight gone makes up for a slow rise; a level that is off, or unknown, needs a sharp one. */
const slowestRise_s = 0.3;
const sharpRise_s = 0.018;
/** Nothing gone and still a shot: only where the push is too sharp for a hand. */
const sharpestRise_s = 0.012;
/** Impulse over peak: a shot's is twenty milliseconds and more even where ringing raises the peak, a knock's a few. */
const leastPeak = 0.2;
/** Corner for the rise: noise has crests of its own. */
const smooth_Hz = 60;
const leastWidth_s = 0.01;
/** The same over the peak without ringing, in jet times. */
const leastWidth = 0.3;
const leastLength_s = 0.015;
/** How far the level may be off and still be this shot's. */
const levelSlack = 0.4;
/** Of the water that left, where some stayed: part of its own jet's impulse, m√(2p/ρ), that the push has. */
const leastOfGone = 0.35;
const greatestOfGone = 1.2;
/** No bottle pushes for longer than this many jet times; of a push that leaves nothing, this part is early. */
export const jetTimes = 3;
const leastEarly = 0.5;

/** How long the water would take at its first speed, m/(A√(2pρ)). */
export const jetTime = (shot: ShotSetup): number =>
  shot.water_kg /
  ((Math.PI / 4) *
    shot.openingDiameter_m ** 2 *
    Math.sqrt(2 * shot.setPressure_Pa * shot.waterDensity_kg_m3));

/**
 * A shot pushes sharply, gives about the impulse that its water and pressure can, and leaves a lasting
 * step of the right size. Hands on the stand are slow or leave nothing; a knock is short.
 */
export function judge(window: EventWindow, separated: Separated, shot: ShotSetup): Verdict {
  const { rate_Hz, from, to, tail, count } = window;
  const sum = new Float64Array(count);
  for (const { force_N } of separated.channels)
    for (let i = 0; i < count; i++) sum[i] = sum[i]! + force_N[i]!;
  const { value_N: level_N, u_N: u_fit_N } = levelOf(separated.free);
  // What was drawn into gaps has discharged as well, or has not.
  const u_drawn_N = window.channels.map((c, i) => c.u_filled_Ns * separated.fit.channels[i]!.inverse_1_s);
  const u_N = Math.hypot(u_fit_N, ...u_drawn_N);
  const expected_N = separated.expectedLevel_N;
  const weight_N = shot.water_kg * shot.gravity_m_s2;
  const slack_N = Math.max(levelSlack * weight_N, 4 * u_N);
  const levelFits = Math.abs(level_N - expected_N) < slack_N;
  const levelKnown = u_N < 0.25 * weight_N;
  const nothingGone = levelKnown && Math.abs(level_N) < Math.max(0.15 * weight_N, 4 * u_N);

  const stopper_N = shot.stopperHeld === "outside" ? weight_N - expected_N : 0;
  const peak = greatestBetween(sum, from, to);
  const smooth = lowPass(sum, rate_Hz, smooth_Hz);
  const crest = greatestBetween(smooth, from, to);
  const rise = riseOf(smooth, from, crest);
  const length_s = (to - Math.max(from, rise.start)) / rate_Hz;
  // Where less than the weight went, no more than that is missing from the push.
  const gone_N = levelKnown && !nothingGone ? Math.max(0, Math.min(weight_N, level_N + stopper_N)) : weight_N;
  const impulse_Ns = roughImpulse(sum, rise.start, Math.min(tail, count), rate_Hz, stopper_N, gone_N);
  const jet_Ns = shot.water_kg * Math.sqrt((2 * shot.setPressure_Pa) / shot.waterDensity_kg_m3);
  const part = impulse_Ns / jet_Ns;
  const rise_s = rise.length / rate_Hz;

  const verdict = (isShot: boolean, why: string): Verdict => ({ isShot, levelFits, rise_s, impulse_Ns, why });
  // A low, long push looks over after its sharp start; its level says that it goes on.
  if (!levelFits && level_N > expected_N + slack_N && rise_s <= sharpRise_s)
    return verdict(false, "still pushing");
  if (length_s < leastLength_s) return verdict(false, "too short");
  if (peak === from) return verdict(false, "falls from its start");
  if (part < leastImpulse) return verdict(false, "impulse too small");
  if (part > greatestImpulse) return verdict(false, "impulse too large");
  if (levelKnown && levelFits && !nothingGone && rise_s <= slowestRise_s) return verdict(true, "level step");
  // A level that may be nothing and may be the weight speaks for neither.
  const leftNothing = nothingGone && !levelFits;
  const limit_s = leftNothing ? sharpestRise_s : sharpRise_s;
  const start_N = (Math.PI / 2) * shot.openingDiameter_m ** 2 * shot.setPressure_Pa;
  const strong = rise_s > 0 && sum[peak]! > leastPeak * start_N;
  const push_s = jetTime(shot);
  const wide =
    !leftNothing || impulse_Ns > Math.max(leastWidth_s * sum[peak]!, leastWidth * push_s * smooth[crest]!);
  const early = !leftNothing || earlyPart(sum, rise.start, tail, jetTimes * push_s * rate_Hz) > leastEarly;
  const ofGone = impulse_Ns / (jet_Ns * (level_N / weight_N));
  const someGone = levelKnown && !nothingGone && ofGone > leastOfGone && ofGone < greatestOfGone;
  const enough = part >= 2 * leastImpulse || someGone;
  if (rise_s <= limit_s && strong && wide && early && enough) return verdict(true, "sharp");
  return verdict(false, "slow, and no weight gone");
}

function greatestBetween(values: Float64Array, from: number, to: number): number {
  let at = from;
  for (let i = from; i < to; i++) if (values[i]! > values[at]!) at = i;
  return at;
}

/** The weight goes about as the push does: good enough to tell a shot from a hand. */
function roughImpulse(
  sum: Float64Array,
  from: number,
  to: number,
  rate_Hz: number,
  stopper_N: number,
  weight_N: number,
): number {
  let total = 0;
  for (let i = from; i < to; i++) total += sum[i]! + stopper_N;
  if (!(total > 0)) return 0;
  let seen = 0;
  let gone = 0;
  for (let i = from; i < to; i++) {
    seen += sum[i]! + stopper_N;
    gone += Math.max(0, Math.min(1, seen / total));
  }
  return (total - weight_N * gone) / rate_Hz;
}

/** Part of a push's area that lies in its first samples. */
function earlyPart(sum: Float64Array, from: number, to: number, samples: number): number {
  let early = 0;
  let all = 0;
  for (let i = from; i < Math.min(to, sum.length); i++) {
    all += sum[i]!;
    if (i < from + samples) early += sum[i]!;
  }
  return all > 0 ? early / all : 0;
}

/** From a tenth to seven tenths of the first crest that reaches half of the greatest. */
function riseOf(sum: Float64Array, from: number, peak: number): { start: number; length: number } {
  let crest = peak;
  for (let i = from + 1; i < peak; i++) {
    if (sum[i]! > 0.5 * sum[peak]! && sum[i]! >= sum[i - 1]! && sum[i]! > sum[i + 1]!) {
      crest = i;
      break;
    }
  }
  let high = crest;
  while (high > from && sum[high]! > 0.7 * sum[crest]!) high--;
  let low = high;
  while (low > from && sum[low]! > 0.1 * sum[crest]!) low--;
  return { start: low, length: high - low };
}
