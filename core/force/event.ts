import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import type { Budget } from "../uncertainty/budget.ts";
import type { Blocks } from "./blocks.ts";
import type { Layer, Switches } from "./corrections.ts";
import { type Discharge, dischargesOf } from "./discharge.ts";
import type { HandMarks } from "./expulsion.ts";
import type { FoundEvent } from "./find-events.ts";
import { type ImpulseSource, impulseBudget } from "./impulse-budget.ts";
import { layersOf } from "./layers.ts";
import { type Measured, measure } from "./measure.ts";
import { levelOf } from "./separate.ts";
import type { Trace } from "./trace.ts";
import { eventWarnings } from "./warnings.ts";
import type { EventWindow } from "./window.ts";

/** One event reduced: its numbers, what each correction did, what they are worth, what to look out for. */
export type ReducedEvent = {
  readonly onset_s: number;
  readonly waterEnd_s: number;
  readonly end_s: number;
  /** Marks that stand where a hand put them. */
  readonly byHand: HandMarks;
  readonly measured: Measured;
  readonly expelled_kg: number;
  readonly specificImpulse_s: number;
  readonly discharges: readonly Discharge[];
  readonly endLevel_N: number;
  readonly endLevelError_N: number;
  readonly layers: readonly Layer[];
  readonly budget: Budget<ImpulseSource>;
  /** The same without the sensors' calibration: what the reduction itself is worth. */
  readonly withoutCalibration: Budget<ImpulseSource>;
  readonly series: EventSeries;
  readonly warnings: readonly Issue[];
};

/** The event's window on one even time grid, newtons upward, for plots. */
export type EventSeries = {
  readonly start_s: number;
  readonly rate_Hz: number;
  /** All channels together as the recorder wrote them. */
  readonly read_N: Float64Array;
  readonly thrust_N: Float64Array;
  readonly envelope_N: Float64Array;
};

/** Standard gravity, which specific impulse is stated by wherever the stand is. */
const standardGravity_m_s2 = 9.80665;

/** The last moments of the window, and the part of the peak that they may have in the mean when all is over. */
const lastMoments_s = 0.015;
const overPart = 0.08;

/** A record that ends while the stand pushes holds only a part of the impulse, and nobody can say which. */
function stillPushes({ envelope_N, thrustPeak_N, settledSamples }: Measured, rate_Hz: number): boolean {
  const n = Math.max(1, Math.min(envelope_N.length, Math.round(lastMoments_s * rate_Hz)));
  if (settledSamples > 4 * n) return false;
  let sum = 0;
  for (let i = envelope_N.length - n; i < envelope_N.length; i++) sum += Math.abs(envelope_N[i]!);
  return sum / n > overPart * thrustPeak_N;
}

/** @fails clipped-beyond-repair, event-not-measurable, event-cut-off */
export function reduceEvent(
  trace: Trace,
  blocks: Blocks,
  event: FoundEvent,
  index: number,
  calibratedTogether: boolean,
  switches: Switches,
  hand: HandMarks = {},
): Result<ReducedEvent> {
  const where = `event ${index + 1}`;
  const { window, separated, shot } = event;
  if (switches.clipping && separated.lost.length > 0) return failed(clipped(trace, separated.lost, where));
  const measured = measure(trace, window, separated, shot, switches, hand);
  const refusal = whyNot(event, measured, hand, where);
  if (refusal !== undefined) return failed(refusal);
  const budgets = impulseBudget(window, trace.channels, separated, measured, calibratedTogether);
  const endLevel_N = leftLevel(event);
  const discharges = dischargesOf(trace, blocks, event);
  const at = (sample: number) => timeAt(window, sample);
  return ok({
    onset_s: at(measured.marks.onset),
    waterEnd_s: at(measured.marks.waterEnd),
    end_s: at(measured.marks.end),
    byHand: hand,
    measured,
    expelled_kg: shot.water_kg,
    specificImpulse_s: measured.impulse_Ns / (shot.water_kg * standardGravity_m_s2),
    discharges,
    endLevel_N,
    // The stopper's step is no weight: the level is compared with the weight once it is put back.
    endLevelError_N: endLevel_N + measured.stopper_N - shot.water_kg * shot.gravity_m_s2,
    layers: layersOf(trace, event, measured, switches),
    ...budgets,
    series: {
      start_s: at(0),
      rate_Hz: window.rate_Hz,
      read_N: asRead(event),
      thrust_N: measured.thrust_N,
      envelope_N: measured.envelope_N,
    },
    warnings: eventWarnings({ where, trace, blocks, event, measured, discharges, endLevel_N }),
  });
}

const timeAt = (window: EventWindow, sample: number): number => window.start_s + sample / window.rate_Hz;

/** What stands against stating any number of this event. */
function whyNot(
  { window, separated }: FoundEvent,
  measured: Measured,
  hand: HandMarks,
  where: string,
): Issue | undefined {
  const asked = [measured.impulse_Ns, measured.thrustPeak_N, measured.outflow.jetArea_m2, ...measured.shares];
  if (!separated.fit.determined || !asked.every(Number.isFinite) || !(measured.impulse_Ns > 0)) {
    return issue(
      "event-not-measurable",
      where,
      "the samples around the event give no impulse upward",
      "look at the file there",
    );
  }
  if (hand.end_s === undefined && stillPushes(measured, window.rate_Hz)) {
    return issue(
      "event-cut-off",
      where,
      `the record ends at ${timeAt(window, window.count).toFixed(3)} s, while the stand still pushes`,
      "the impulse of this event is not known; let the recorder run for two seconds after the release",
    );
  }
  return undefined;
}

/** A level that the record alone cannot tell is no quality figure; then the one that was used stands. */
function leftLevel({ separated, shot }: FoundEvent): number {
  const level = levelOf(separated.free);
  const knows = level.u_N < 0.25 * shot.water_kg * shot.gravity_m_s2;
  return (knows ? level : levelOf(separated.fit)).value_N;
}

function asRead({ window }: FoundEvent): Float64Array {
  const sum = new Float64Array(window.count);
  for (const { force_N } of window.channels)
    for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + force_N[i]!;
  return sum;
}

const clipped = (trace: Trace, lost: readonly number[], where: string): Issue =>
  issue(
    "clipped-beyond-repair",
    where,
    `${lost.map((c) => `"${trace.channels[c]!.name}"`).join(" and ")} stood at the limit and no other channel can stand in`,
    "the impulse of this event is not known; set a wider range on the recorder",
  );
