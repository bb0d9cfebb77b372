import type { Setup } from "../exchange/setup.ts";
import type { Assumed } from "../exchange/setup-fields.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { blocksOf } from "./blocks.ts";
import type { Role } from "./columns.ts";
import { type Correction, switchesWithout } from "./corrections.ts";
import { type ReducedEvent, reduceEvent } from "./event.ts";
import type { HandMarks } from "./expulsion.ts";
import { type EventSpan, eventsAt, type FoundEvent, findEvents } from "./find-events.ts";
import type { ForceFile } from "./force-file.ts";
import { buildTrace, type Trace } from "./trace.ts";

export type ReduceOptions = {
  /** What each column holds, where the guess was wrong. */
  readonly roles?: readonly Role[];
  /** Corrections to leave out, to see what they do. */
  readonly off?: readonly Correction[];
  /** Marks moved by hand, by place of the event in the file, from 0. */
  readonly marks?: Readonly<Record<number, HandMarks>>;
  /** Where the events are, instead of a search. */
  readonly spans?: readonly EventSpan[];
  /** Defaults that reading the setup used, echoed; those that the record contradicts are decided by it. */
  readonly assumed?: Assumed;
};

export type Reduction = {
  readonly events: readonly ReducedEvent[];
  readonly trace: Trace;
  readonly assumed: Assumed;
  /** Events that were found and could not be measured; `issues` says why. */
  readonly refused: number;
  /** What was odd about the file or the search, and did not stop it. */
  readonly issues: readonly Issue[];
};

/**
 * Reduces a force file under the setup's conditions: finds the events, undoes what sensors and stand did,
 * puts the weight that left back, and gives every number with its budget.
 * @returns events in order of time; none together with the issue `no-event-found`
 * @fails every code of `buildTrace`; numbers-too-large
 * @source docs/model.md, docs/uncertainty.md
 */
export function reduce(file: ForceFile, setup: Setup, options: ReduceOptions = {}): Result<Reduction> {
  const built = buildTrace(file, setup, options.roles);
  if (!built.ok) return built;
  const { trace, notes } = built.value;
  const large = tooLarge(trace);
  if (large.length > 0) return failed(...large);
  const assumed: Assumed = { ...options.assumed, ...built.value.assumed };
  const issues: Issue[] = [...file.notes, ...notes];
  const switches = switchesWithout(options.off ?? []);
  const blocks = blocksOf(trace);
  const search = (within: Setup, of = trace, at = blocks): readonly FoundEvent[] =>
    options.spans === undefined
      ? findEvents(of, at, within, switches)
      : eventsAt(of, at, within, switches, options.spans);

  let found = search(setup);
  if (found.length === 0 && setup.stopperHeld === "inside") {
    const outside = withStopperOutside(setup);
    const there = search(outside).filter(bySteps);
    if (there.length > 0 && assumed["stopperHeld"] === "inside") {
      found = there;
      assumed["stopperHeld"] = "outside";
      issues.push(
        stopperIssue("it was not stated; the final level says outside, and the record was put back on it"),
      );
    } else if (there.length > 0)
      issues.push(stopperIssue("the setup says inside, the final level says outside"));
  }
  if (found.length === 0 && options.spans === undefined) {
    const turned = turnedRound(trace);
    if (search(setup, turned, blocksOf(turned)).some(bySteps)) issues.push(signIssue);
    issues.push(noEvent(trace));
  }
  if (setup.events !== undefined && found.length > setup.events.length) {
    issues.push(
      issue(
        "more-events-than-conditions",
        `events[${setup.events.length}]`,
        `the record holds ${found.length} events, conditions are given for ${setup.events.length}`,
        "give the conditions of every event in order of time; the file's own were used for the others",
      ),
    );
  }
  const events: ReducedEvent[] = [];
  for (const [i, event] of found.entries()) {
    const reduced = reduceEvent(
      trace,
      blocks,
      event,
      i,
      setup.calibratedTogether,
      switches,
      options.marks?.[i],
    );
    if (reduced.ok) events.push(reduced.value);
    else issues.push(...reduced.issues);
  }
  return ok({ events, refused: found.length - events.length, trace, assumed, issues });
}

/** Another reading of the record is believed only where the level it leaves says so too. */
const bySteps = (event: FoundEvent): boolean => event.verdict.why === "level step";

/** Beyond this a number is no force of a bottle but a slip of the file, and powers of it overflow. */
const greatest_N = 1e6;

function tooLarge(trace: Trace): readonly Issue[] {
  return trace.channels.flatMap(({ values, extremes, plan, name }) => {
    const limit = greatest_N / Math.abs(plan.toNewton);
    if (extremes.greatest <= limit && extremes.least >= -limit) return [];
    const at = values.findIndex((x) => x > limit || x < -limit);
    if (at < 0) return [];
    return [
      issue(
        "numbers-too-large",
        `line ${trace.lineOf(plan.column.indexOf(values[at]!))}, column ${plan.header.number}`,
        `${values[at]} in "${name}" would be ${(values[at]! * Math.abs(plan.toNewton)).toPrecision(3)} N`,
        "correct that line, or the channel's unit",
      ),
    ];
  });
}

const withStopperOutside = (setup: Setup): Setup => ({
  ...setup,
  stopperHeld: "outside",
  ...(setup.events && { events: setup.events.map((e) => ({ ...e, stopperHeld: "outside" as const })) }),
});

const turnedRound = (trace: Trace): Trace => ({
  ...trace,
  channels: trace.channels.map((c) => ({ ...c, plan: { ...c.plan, toNewton: -c.plan.toNewton } })),
});

const stopperIssue = (detail: string): Issue =>
  issue(
    "stopper-held-outside",
    "stopperHeld",
    detail,
    'state "stopperHeld": "outside" where the stopper pushes against the ground',
  );

const signIssue: Issue = issue(
  "sign-reversed",
  "channels",
  "the record holds a shot upside down: its thrust reads negative",
  'state "sign": -1 for the channels; taking a weight off must look like thrust',
);

const noEvent = (trace: Trace): Issue =>
  issue(
    "no-event-found",
    "file",
    `nothing in ${(trace.samples / trace.rate_Hz).toFixed(2)} s looks like a shot: a sharp push with the impulse of this water and pressure that leaves the weight gone`,
    "look at the trace: was this the right file, were the channels alive, are unit, sign, water and pressure right?",
  );
