import type { Setup } from "../exchange/setup.ts";
import type { ShotSetup } from "../exchange/setup-shot.ts";
import { findActivity, type Stretch } from "./activity.ts";
import type { Blocks } from "./blocks.ts";
import type { Switches } from "./corrections.ts";
import { jetTime, jetTimes, judge, type Verdict } from "./judge.ts";
import { levelOf, type Separated, separate, surveyTail } from "./separate.ts";
import { type Span, surround } from "./span.ts";
import type { Trace } from "./trace.ts";
import { cutWindow, type EventWindow } from "./window.ts";

/** A stretch taken for a shot, with what was already found out to judge it. */
export type FoundEvent = {
  readonly span: Span;
  readonly window: EventWindow;
  readonly separated: Separated;
  readonly verdict: Verdict;
  readonly shot: ShotSetup;
};

/** Where events are, as a person set it, in seconds of the record's clock. */
export type EventSpan = { readonly from_s: number; readonly to_s: number };

const longest_s = 6;
const joinedAtMost = 4;
/** What a stretch has before and after the push: the search's own lag, ringing. */
const surroundings_s = 0.4;
const extension_s = 0.1;
const extensionsAtMost = 40;
const gentle_s = 0.06;
const settledPart = 0.1;
const greatestUnrest = 5;
const longestWait_s = 1.6;
const leastTail_s = 0.3;

/**
 * Finds the shots in a record: single stretches of activity first, then neighbours joined (a low, long
 * push seems over after its sharp start), then a stretch that goes on pushing, made longer.
 */
export function findEvents(
  trace: Trace,
  blocks: Blocks,
  setup: Setup,
  switches: Switches,
): readonly FoundEvent[] {
  const shots: readonly ShotSetup[] = [...(setup.events ?? []), setup];
  const shotOf = (index: number): ShotSetup => shots[Math.min(index, shots.length - 1)]!;
  const longestPush_s = longestPush(shots);
  const stretches = findActivity(blocks, greatestThrust(shots));
  const taken = stretches.map(() => false);
  const found: FoundEvent[] = [];
  const seen = new Map<string, FoundEvent>();
  const attempt = (a: number, b: number, to: number): FoundEvent => {
    // A hand comes and goes more gently than the search can see: its neighbourhood is left out as well.
    const margin = Math.round(gentle_s / blocks.step_s);
    const earliest = a > 0 ? Math.min(stretches[a - 1]!.to + margin, stretches[a]!.from) : 0;
    const latest = b + 1 < stretches.length ? Math.max(stretches[b + 1]!.from - margin, to) : blocks.count;
    const shot = shotOf(found.filter((event) => event.span.from < stretches[a]!.from).length);
    const key = `${a} ${to} ${shots.indexOf(shot)}`;
    const event =
      seen.get(key) ??
      lookAt(trace, blocks, { from: stretches[a]!.from, to }, earliest, latest, shot, switches);
    seen.set(key, event);
    return event;
  };
  const accept = (event: FoundEvent, a: number, b: number) => {
    found.push(event);
    for (let i = a; i <= b; i++) taken[i] = true;
  };
  const pushing = new Set<number>();
  // First what leaves the right level, joined from neighbours if need be; only then what is merely sharp.
  for (const grade of ["level step", "sharp"]) {
    for (let length = 1; length <= joinedAtMost; length++) {
      for (let a = 0; a + length <= stretches.length; a++) {
        const b = a + length - 1;
        if (taken.slice(a, b + 1).includes(true)) continue;
        const length_s = (stretches[b]!.to - stretches[a]!.from) * blocks.step_s;
        if (length_s > (length > 1 ? Math.min(longest_s, longestPush_s) : longest_s)) continue;
        const event = attempt(a, b, stretches[b]!.to);
        if (event.verdict.isShot && event.verdict.why === grade) accept(event, a, b);
        else if (event.verdict.why === "still pushing") pushing.add(a);
      }
    }
  }
  const step = Math.round(extension_s / blocks.step_s);
  for (const a of pushing) {
    const latest = stretches[a + 1]?.from ?? blocks.count;
    for (let i = 1; i <= extensionsAtMost && !taken[a]; i++) {
      const to = stretches[a]!.to + i * step;
      const length_s = (to - stretches[a]!.from) * blocks.step_s;
      if (to + 2 * step > latest || length_s > longestPush_s) break;
      const event = attempt(a, a, to);
      if (event.verdict.isShot && isSettled(event)) accept(event, a, a);
    }
  }
  return found.sort((x, y) => x.span.from - y.span.from);
}

/** Twice pressure times opening: the start of the strongest shot that the setup names. */
const greatestThrust = (shots: readonly ShotSetup[]): number =>
  Math.max(...shots.map((s) => 2 * (Math.PI / 4) * s.openingDiameter_m ** 2 * s.setPressure_Pa));

const longestPush = (shots: readonly ShotSetup[]): number =>
  jetTimes * Math.max(...shots.map(jetTime)) + surroundings_s;

/** The end of a push that was not seen to end: where the tail is still and its level is the one called for. */
function isSettled({ separated, shot }: FoundEvent): boolean {
  const { value_N, u_N } = levelOf(separated.free);
  const slack_N = Math.max(settledPart * shot.water_kg * shot.gravity_m_s2, 3 * u_N);
  return separated.fit.unrest <= greatestUnrest && Math.abs(value_N - separated.expectedLevel_N) < slack_N;
}

/** Events where a person says they are: nothing is judged, everything is measured. */
export function eventsAt(
  trace: Trace,
  blocks: Blocks,
  setup: Setup,
  switches: Switches,
  spans: readonly EventSpan[],
): readonly FoundEvent[] {
  const inBlocks = (t_s: number) =>
    Math.max(0, Math.min(blocks.count, Math.round((t_s - trace.start_s) / blocks.step_s)));
  const stretches = spans
    .map(({ from_s, to_s }) => ({ from: inBlocks(from_s), to: inBlocks(to_s) }))
    .filter(({ from, to }) => to > from + 2)
    .sort((a, b) => a.from - b.from);
  return stretches.map((stretch, i) =>
    lookAt(
      trace,
      blocks,
      stretch,
      stretches[i - 1]?.to ?? 0,
      stretches[i + 1]?.from ?? blocks.count,
      setup.events?.[i] ?? setup,
      switches,
    ),
  );
}

function lookAt(
  trace: Trace,
  blocks: Blocks,
  stretch: Stretch,
  earliest: number,
  latest: number,
  shot: ShotSetup,
  switches: Switches,
): FoundEvent {
  const span = restedSpan(trace, blocks, stretch, earliest, latest, shot);
  const window = cutWindow(trace, blocks, span, switches.gaps);
  const separated = separate(trace, blocks, span, window, shot, switches);
  return { span, window, separated, verdict: judge(window, separated, shot), shot };
}

/** The stretch with its surroundings, the tail put off until it is still: a push that fades for long is no level yet. */
function restedSpan(
  trace: Trace,
  blocks: Blocks,
  stretch: Stretch,
  earliest: number,
  latest: number,
  shot: ShotSetup,
): Span {
  let kept: Span | undefined;
  for (let wait_s = 0; wait_s <= longestWait_s; wait_s = Math.max(extension_s, 2 * wait_s)) {
    const around = surround(blocks, stretch, earliest, latest, wait_s);
    const left_s = (latest - around.tailFrom) * blocks.step_s;
    if (kept !== undefined && left_s < leastTail_s) break;
    const { span, unrest } = surveyTail(trace, blocks, around, shot);
    kept ??= span;
    const length_s = (span.tailTo - span.tailFrom) * blocks.step_s;
    if (unrest <= greatestUnrest && length_s >= Math.min(leastTail_s, left_s)) return span;
  }
  return kept!;
}
