import type { ShotSetup } from "../exchange/setup-shot.ts";
import { type Issue, issue } from "../result.ts";
import type { Blocks } from "./blocks.ts";
import type { Discharge } from "./discharge.ts";
import type { FoundEvent } from "./find-events.ts";
import { areaBetween } from "./impulse.ts";
import type { Measured } from "./measure.ts";
import { levelOf } from "./separate.ts";
import type { Trace } from "./trace.ts";

/** What a reader of one event's numbers must know, each with what to do about it. */
export type EventView = {
  readonly where: string;
  readonly trace: Trace;
  readonly blocks: Blocks;
  readonly event: FoundEvent;
  readonly measured: Measured;
  readonly discharges: readonly Discharge[];
  readonly endLevel_N: number;
};

type Check = (view: EventView) => Issue | undefined;

const leastRate_Hz = 500;
const samplesPerSwing = 2.5;
const leastQuiet_s = 0.1;
const leastTail_s = 0.1;
const weightPart = 0.1;
const shareSlack = 0.03;
const greatestDrift_N_s = 0.25;
const jetSlack = 0.2;

export function eventWarnings(view: EventView): readonly Issue[] {
  return checks.flatMap((check) => check(view) ?? []);
}

const samplingTooSlow: Check = ({ where, trace, event }) => {
  const ringing_Hz = event.window.ringing?.frequency_Hz ?? 0;
  const needed_Hz = Math.max(leastRate_Hz, samplesPerSwing * ringing_Hz);
  if (trace.rate_Hz >= needed_Hz) return undefined;
  return issue(
    "sampling-too-slow",
    where,
    `${round(trace.rate_Hz)} samples a second; the stand rings at ${round(ringing_Hz)} Hz`,
    `record at ${round(needed_Hz)} Hz or more, or the impulse is off by a per cent and more`,
  );
};

const quietTooShort: Check = ({ where, blocks, event }) => {
  const quiet_s = (event.span.from - event.span.quietFrom) * blocks.step_s;
  if (quiet_s >= leastQuiet_s) return undefined;
  return issue(
    "quiet-too-short",
    where,
    `only ${ms(quiet_s)} of quiet before the event`,
    "start the recorder a second before the release, hands off the stand",
  );
};

const tailTooShort: Check = ({ where, event, measured }) => {
  const tail_s = measured.settledSamples / event.window.rate_Hz;
  if (tail_s >= leastTail_s) return undefined;
  return issue(
    "tail-too-short",
    where,
    `the record ends ${ms(tail_s)} after the event: ringing and level cannot settle`,
    "let the recorder run for two seconds after the release",
  );
};

const standMoved: Check = ({ where, trace, blocks, event }) => {
  if (!event.span.disturbed) return undefined;
  const at_s = trace.start_s + event.span.tailTo * blocks.step_s;
  return issue(
    "stand-moved",
    where,
    `the level jumps at ${at_s.toFixed(2)} s, after the event`,
    "keep hands off the stand until the recorder has stopped; what comes after the jump is not used",
  );
};

const endLevelOff: Check = ({ where, event, endLevel_N }) => {
  const { value_N, u_N } = levelOf(event.separated.free);
  const { expectedLevel_N, levelUsed, fit } = event.separated;
  const off_N = endLevel_N - expectedLevel_N;
  const slack_N = Math.max(weightPart * weightOf(event.shot), 4 * u_N);
  const fitted = fit.channels.some((c) => c.inverse_1_s > 0) && levelUsed && u_N > weightOf(event.shot) / 4;
  if (fitted || Math.abs(value_N - expectedLevel_N) <= slack_N) return undefined;
  return issue(
    "end-level-off",
    where,
    `the level left is ${newtons(endLevel_N)}, the weight gone calls for ${newtons(expectedLevel_N)}: ${newtons(off_N)} off`,
    "look whether water stayed in the bottle, the stand moved, or the water's mass or the discharge time is another",
  );
};

const dischargeNotFitted: Check = ({ where, discharges }) => {
  const refused = discharges.filter((d) => d.refused);
  if (refused.length === 0) return undefined;
  return issue(
    "discharge-time-not-fitted",
    where,
    `the tail does not tell the discharge time of ${refused.map((d) => d.name).join(" and ")} to ten per cent`,
    "state it from the sensor's sheet or a step test; the end level that the expelled weight must leave was used instead",
  );
};

const dischargeDoubtful: Check = ({ where, discharges }) => {
  const doubtful = discharges.filter((d) => d.doubtful);
  if (doubtful.length === 0) return undefined;
  return issue(
    "discharge-time-doubtful",
    where,
    `the tail of ${doubtful.map((d) => d.name).join(" and ")} does not follow the discharge time that is stated`,
    "let it be fitted and compare, or test the channel with a known weight taken off",
  );
};

const channelsDisagree: Check = ({ where, event, measured, trace }) => {
  const { onset, end } = measured.marks;
  const { rate_Hz } = event.window;
  const middle = onset + (end - onset) * 0.35;
  if (event.separated.channels.length < 2) return undefined;
  const half = (from: number, to: number) => {
    const areas = event.separated.channels.map(({ force_N }) => areaBetween(force_N, from, to, rate_Hz));
    const total = areas.reduce((a, b) => a + b, 0);
    return areas.map((area) => area / total);
  };
  const first = half(onset, middle);
  const second = half(middle, end);
  const worst = first.reduce((most, share, c) => Math.max(most, Math.abs(share - second[c]!)), 0);
  const negative = measured.shares.findIndex((share) => share < 0);
  if (negative >= 0) {
    return issue(
      "channels-disagree",
      where,
      `"${trace.channels[negative]!.name}" pulls while the others push`,
      "look at its sign: taking a weight off must look like thrust on every channel",
    );
  }
  if (worst <= shareSlack) return undefined;
  return issue(
    "channels-disagree",
    where,
    `the channels' shares change by ${percent(worst)} during the event`,
    "look at the discharge times and at what the frame may rub on",
  );
};

const driftAfterZero: Check = ({ where, event }) => {
  const drift = event.separated.fit.channels.reduce((sum, c) => sum + c.drift_N_s, 0);
  if (Math.abs(drift) <= greatestDrift_N_s) return undefined;
  return issue(
    "drift-after-zero",
    where,
    `the zero drifts by ${drift.toFixed(2)} N each second`,
    "let the amplifier warm up, keep the sensors out of sun and wind, zero right before the release",
  );
};

const gapInEvent: Check = ({ where, event, trace }) => {
  const missing = event.window.channels.reduce((sum, c) => sum + c.missing, 0);
  if (missing === 0) return undefined;
  return issue(
    "gap-in-event",
    where,
    `${missing} samples are missing around the event, first after line ${firstGapLine(trace, event)}`,
    "they were drawn from their neighbours, at a cost that the uncertainty carries; look at the recorder's buffer",
  );
};

const clippedRebuilt: Check = ({ where, event, trace }) => {
  const rebuilt = event.separated.standIns.flatMap((found, c) =>
    found === undefined ? [] : [trace.channels[c]!.name],
  );
  if (rebuilt.length === 0) return undefined;
  return issue(
    "clipped-rebuilt",
    where,
    `${rebuilt.join(" and ")} stood at the limit and was rebuilt from the other channel`,
    "set a wider range on the recorder",
  );
};

const slowRise: Check = ({ where, event }) =>
  event.verdict.rise_s <= 0.06
    ? undefined
    : issue(
        "slow-rise",
        where,
        `the force takes ${ms(event.verdict.rise_s)} to rise`,
        "look whether this is a shot and whether the stopper left freely",
      );

const waterEndNotSeen: Check = ({ where, measured }) =>
  measured.waterEndSeen
    ? undefined
    : issue(
        "water-end-not-seen",
        where,
        "the thrust dies away without the fall at which the water ends",
        "set the mark by hand if another record tells it; the weight is taken to leave until the thrust ends",
      );

const jetAreaOff: Check = ({ where, event, measured }) => {
  const { shot } = event;
  const expected = (Math.PI / 4) * shot.openingDiameter_m ** 2 * shot.contraction;
  const ratio = measured.outflow.jetArea_m2 / expected;
  if (Math.abs(ratio - 1) <= jetSlack) return undefined;
  return issue(
    "jet-area-off",
    where,
    `the weight that left closes with a jet of ${percent(ratio)} of the opening's area`,
    "look at the water's mass, the opening and whether water stayed in the bottle",
  );
};

const stopperOutside: Check = ({ where, measured }) =>
  measured.stopper_N === 0
    ? undefined
    : issue(
        "stopper-outside",
        where,
        `the record was zeroed under the stopper's push, ${newtons(measured.stopper_N)}, and put back on its final level`,
        "hold the stopper inside the force path, or zero before the air goes in",
      );

const checks: readonly Check[] = [
  samplingTooSlow,
  quietTooShort,
  tailTooShort,
  standMoved,
  endLevelOff,
  dischargeNotFitted,
  dischargeDoubtful,
  channelsDisagree,
  driftAfterZero,
  gapInEvent,
  clippedRebuilt,
  slowRise,
  waterEndNotSeen,
  jetAreaOff,
  stopperOutside,
];

const weightOf = (shot: ShotSetup) => shot.water_kg * shot.gravity_m_s2;
const newtons = (force_N: number) => `${force_N.toFixed(2)} N`;
const percent = (part: number) => `${(100 * part).toFixed(1)} %`;
const ms = (time_s: number) => `${Math.round(time_s * 1000)} ms`;
const round = (x: number) => String(Math.round(x));

function firstGapLine(trace: Trace, event: FoundEvent): number {
  const { first, count, each } = event.window;
  const gap = trace.gaps.find((g) => g.from + g.count > first && g.from < first + count * each);
  return trace.lineOf(gap?.afterRow ?? 0);
}
