import type { ShotSetup } from "../exchange/setup-shot.ts";
import type { Switches } from "./corrections.ts";
import { findEnd, findWaterEnd, greatest, noise } from "./marks.ts";
import { withoutRinging } from "./ringing.ts";
import { findOutflow, type Outflow } from "./weight.ts";
import type { EventWindow } from "./window.ts";

/** Marks set by hand, in seconds of the record's clock; what is absent is found. */
export type HandMarks = { readonly onset_s?: number; readonly waterEnd_s?: number; readonly end_s?: number };

/** What all channels felt together, with the level that was left and the stopper's push that was put back. */
export type Stand = {
  readonly stand_N: Float64Array;
  readonly onset: number;
  readonly level_N: number;
  readonly putBack_N: number;
};

/** How water and thrust ended, in samples of the window, and the weight put back by it. */
export type Expulsion = {
  readonly waterEnd: number;
  /** False where nothing falls steeply: the weight is then taken to leave until the thrust ends. */
  readonly waterEndSeen: boolean;
  readonly end: number;
  readonly outflow: Outflow;
  readonly thrust_N: Float64Array;
};

/** Corner of the envelope: the definition of the peak and of burn time. */
export const envelope_Hz = 60;
/** Corner for the force that drives the water: above the start's few milliseconds, below most of the noise. */
const driving_Hz = 150;
/** Length over width; common practice, no source. */
const slenderness = 2.5;
const markRounds = 5;
const measurable = 4;
const leastMeasurable = 0.004;

/** Sample of a mark that a hand set, held inside the window. */
export const byHand = ({ start_s, rate_Hz, count }: EventWindow, t_s: number): number =>
  Math.max(1, Math.min(count - 2, (t_s - start_s) * rate_Hz));

/** The end bounds the search for the water's end, and the weight that left decides the end: round until both rest. */
export function expel(
  window: EventWindow,
  { stand_N, onset, level_N, putBack_N }: Stand,
  shot: ShotSetup,
  switches: Switches,
  hand: HandMarks,
): Expulsion {
  const { rate_Hz, count, tail, ringing } = window;
  const driving_N = withoutRinging(stand_N, rate_Hz, ringing, driving_Hz);
  let end = Math.min(tail, count - 2);
  let found: Expulsion | undefined;
  for (let round = 0; round < markRounds; round++) {
    const before = end;
    const fall = findWaterEnd(stand_N, rate_Hz, ringing, onset, end, level_N + putBack_N);
    const slug_s = fall === undefined ? 0 : slugTime(driving_N, fall, rate_Hz, shot);
    const waterEnd =
      hand.waterEnd_s === undefined
        ? Math.min((fall ?? end) + slug_s * rate_Hz, end)
        : byHand(window, hand.waterEnd_s);
    const marks = {
      onset: Math.round(onset),
      neck: Math.round(waterEnd - slug_s * rate_Hz),
      waterEnd: Math.round(waterEnd),
    };
    const outflow = findOutflow(driving_N, rate_Hz, marks, bottleOf(shot), shot.gravity_m_s2);
    const thrust_N = switches.weight
      ? stand_N.map((x, i) => x - outflow.gone_kg[i]! * shot.gravity_m_s2)
      : stand_N;
    const waterEndSeen = fall !== undefined;
    end =
      hand.end_s !== undefined
        ? byHand(window, hand.end_s)
        : lastThrust(thrust_N, window, waterEndSeen ? waterEnd : onset);
    found = { waterEnd, waterEndSeen, end, outflow, thrust_N };
    if (round > 0 && Math.abs(end - before) < 1) break;
  }
  return found!;
}

/**
 * The bottle for the weight's law. Where no diameter is given a common bottle's is taken, two and a half
 * times as long as wide: it decides only how fast the flow starts, a few thousandths of the impulse.
 */
const bottleOf = (shot: ShotSetup) => {
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
