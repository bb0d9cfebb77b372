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
const leastLength_s = 0.015;
/** How far the level may be off and still be this shot's. */
const levelSlack = 0.4;

/**
 * A shot pushes sharply, gives about the impulse that its water and pressure can, and leaves a lasting
 * step of the right size. Hands on the stand are slow or leave nothing; a knock is short.
 */
export function judge(window: EventWindow, separated: Separated, shot: ShotSetup): Verdict {
  const { rate_Hz, from, to, tail, count } = window;
  const sum = new Float64Array(count);
  for (const { force_N } of separated.channels)
    for (let i = 0; i < count; i++) sum[i] = sum[i]! + force_N[i]!;
  const { value_N: level_N, u_N } = levelOf(separated.free);
  const expected_N = separated.expectedLevel_N;
  const weight_N = shot.water_kg * shot.gravity_m_s2;
  const slack_N = Math.max(levelSlack * weight_N, 4 * u_N);
  const levelFits = Math.abs(level_N - expected_N) < slack_N;
  const levelKnown = u_N < 0.25 * weight_N;
  const nothingGone = levelKnown && Math.abs(level_N) < Math.max(0.15 * weight_N, 4 * u_N);

  const stopper_N = shot.stopperHeld === "outside" ? weight_N - expected_N : 0;
  const peak = greatestBetween(sum, from, to);
  const smooth = lowPass(sum, rate_Hz, smooth_Hz);
  const rise = riseOf(smooth, from, greatestBetween(smooth, from, to));
  const length_s = (to - Math.max(from, rise.start)) / rate_Hz;
  const impulse_Ns = roughImpulse(sum, rise.start, Math.min(tail, count), rate_Hz, stopper_N, weight_N);
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
  const limit_s = nothingGone ? sharpestRise_s : sharpRise_s;
  const start_N = (Math.PI / 2) * shot.openingDiameter_m ** 2 * shot.setPressure_Pa;
  const strong = rise_s > 0 && sum[peak]! > leastPeak * start_N;
  const wide = impulse_Ns > (nothingGone ? leastWidth_s : 0) * sum[peak]!;
  if (rise_s <= limit_s && strong && wide && part >= 2 * leastImpulse) return verdict(true, "sharp");
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
