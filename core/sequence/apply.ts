import { findStep } from "../procedure/procedure.ts";
import {
  type Context,
  type Doc,
  keysOf,
  rolesHeld,
  type Snapshot,
  type Standing,
  stepAtHand,
} from "./context.ts";
import { type FactId, type FactRow, factKey, factRow, type Void } from "./facts.ts";
import { nextOutside, nextReadings, showsPressure, stillOutside } from "./gauges.ts";
import { isGood } from "./good-answer.ts";
import { nextCounters } from "./next-counters.ts";
import { nextHolds } from "./next-hold.ts";
import type { Role } from "./roles.ts";
import type { StateId } from "./states.ts";
import type { Act, EventType, SequenceEvent, Stamp } from "./vocabulary.ts";

/**
 * The one generic action: an accepted act deletes what it voids and adds what it establishes.
 * Everything it knows about facts it reads from the table.
 */

type Facts = Context["facts"];

const without = (facts: Facts, keys: readonly string[]): Facts =>
  keys.some((key) => key in facts)
    ? Object.fromEntries(Object.entries(facts).filter(([key]) => !keys.includes(key)))
    : facts;

/** The rows that rest on this one, on those in turn, and so on. */
const dependents = (doc: Doc, id: FactId): readonly FactRow[] => {
  const direct = doc.facts.filter((row) => row.after === id);
  return [...direct, ...direct.flatMap((row) => dependents(doc, row.id))];
};

const dependentKeys = (doc: Doc, id: FactId): readonly string[] =>
  dependents(doc, id).flatMap((row) => keysOf(doc, row));

const applies = (doc: Doc, { on, when }: Void, event: SequenceEvent): boolean => {
  if (on !== event.type) return false;
  if (when === "not-home") return "answer" in event && event.answer !== "home";
  return when !== "pressure" || showsPressure(doc, event);
};

/** The keys of a row that an event voids: all of them, or that of the restraint it names. */
const voidedBy = (doc: Doc, row: FactRow, event: SequenceEvent): readonly string[] =>
  row.voids
    .filter((entry) => applies(doc, entry, event))
    .flatMap(({ scope }) =>
      scope === "same" && "restraint" in event ? [factKey(row.id, event.restraint)] : keysOf(doc, row),
    );

/** Facts that the named entry established: a correction takes them away and proves nothing new. */
export const establishedBy = (doc: Doc, facts: Facts, seq: number): readonly string[] =>
  doc.facts.flatMap((row) => {
    const keys = keysOf(doc, row).filter((key) => facts[key]?.seq === seq);
    return keys.length > 0 ? [...keys, ...dependentKeys(doc, row.id)] : [];
  });

const voidedKeys = (doc: Doc, facts: Facts, event: SequenceEvent): readonly string[] => {
  const byTable = doc.facts.flatMap((row) => {
    const keys = voidedBy(doc, row, event).filter((key) => key in facts);
    return keys.length > 0 ? [...keys, ...dependentKeys(doc, row.id)] : [];
  });
  return event.type === "corrected" ? [...byTable, ...establishedBy(doc, facts, event.entry)] : byTable;
};

type Proven = { readonly id: FactId; readonly key: string };

/** What an accepted act establishes. A step or an answer proves a fact only where it is at home. */
const provenBy = (doc: Doc, state: StateId, event: SequenceEvent): readonly Proven[] => {
  const atHome = (id: FactId): boolean => factRow(doc.facts, id)?.home.includes(state) === true;
  if (event.type === "step-done") {
    const step = findStep(doc.procedure, event.step)?.step;
    if (!step || !isGood(doc, step, event)) return [];
    return step.proves.filter(atHome).map((id) => ({ id, key: factKey(id) }));
  }
  if (event.type === "restraint-answered") {
    const id = event.round === 1 ? "first-look" : "second-look";
    return event.answer === "home" && atHome(id) ? [{ id, key: factKey(id, event.restraint) }] : [];
  }
  return doc.facts.filter((row) => row.by === event.type).map(({ id }) => ({ id, key: factKey(id) }));
};

const stampOf = ({ at, mono, session }: Act): Stamp => ({ at, mono, session });

const sayer = (act: Act): string => {
  const { event } = act;
  if ("seenBy" in event) return event.seenBy;
  return "person" in event ? event.person : act.by;
};

const nextFacts = (doc: Doc, { state, context }: Snapshot, act: Act): Facts => {
  const proven = provenBy(doc, state, act.event);
  // What is proved anew takes away what rested on the proof before.
  const renewed = proven.flatMap(({ id }) => dependentKeys(doc, id));
  const kept = without(context.facts, [...voidedKeys(doc, context.facts, act.event), ...renewed]);
  if (proven.length === 0) return kept;
  const standing: Standing = { ...stampOf(act), seq: act.seq, person: sayer(act) };
  return { ...kept, ...Object.fromEntries(proven.map(({ key }) => [key, standing])) };
};

const nextSteps = (doc: Doc, context: Context, act: Act): Context["steps"] => {
  const { event, seq } = act;
  if (event.type === "step-skipped") return { ...context.steps, [event.step]: { seq, how: "skipped" } };
  if (event.type === "step-done") {
    const step = findStep(doc.procedure, event.step)?.step;
    return step && isGood(doc, step, event)
      ? { ...context.steps, [event.step]: { seq, how: "done" } }
      : context.steps;
  }
  if (event.type !== "corrected") return context.steps;
  return Object.fromEntries(Object.entries(context.steps).filter(([, done]) => done.seq !== event.entry));
};

const nextCrew = (context: Context, event: SequenceEvent): Pick<Context, "crew" | "held" | "holder"> => {
  const { crew, held, holder } = context;
  if (event.type === "handed-over") return { crew, held, holder: event.to };
  if (event.type !== "signed-on") return { crew, held, holder };
  const { person, role } = event;
  const before = rolesHeld(context, person);
  const roles = before.includes(role) ? before : [...before, role];
  return {
    crew: { ...crew, [role]: person },
    held: { ...withoutSlip(context, event), [person]: roles },
    holder: holder ?? (role === "conductor" ? person : undefined),
  };
};

/** Before anything was done, a role that goes to another was a slip of the finger: it was never held. */
const withoutSlip = (
  { crew, held, begun }: Context,
  { person, role }: { readonly person: string; readonly role: Role },
): Context["held"] => {
  const slipped = crew[role];
  if (slipped === undefined || slipped === person || begun) return held;
  return { ...held, [slipped]: rolesHeld({ held }, slipped).filter((other) => other !== role) };
};

/** A timed step is measured from when it came to hand, and afresh where the clocks lost count. */
const nextStepSince = (doc: Doc, before: Snapshot, after: Context, act: Act): Stamp | undefined => {
  const { state, context } = before;
  const atHand = stepAtHand(doc, { state, context: after })?.id;
  const goesOn =
    context.stepSince !== undefined &&
    atHand === stepAtHand(doc, before)?.id &&
    act.event.type !== "restarted" &&
    act.event.type !== "clock-jumped";
  return goesOn ? context.stepSince : stampOf(act);
};

const DOING: readonly EventType[] = ["step-done", "step-skipped", "restraint-answered"];

/** What an accepted act makes of the context, before the state that it leads to is entered. */
export const apply = (doc: Doc, snapshot: Snapshot, act: Act): Context => {
  const { context } = snapshot;
  const next: Context = {
    seq: act.seq,
    stepSince: context.stepSince,
    facts: nextFacts(doc, snapshot, act),
    steps: nextSteps(doc, context, act),
    begun: context.begun || DOING.includes(act.event.type),
    ...nextCrew(context, act.event),
    ...nextHolds(doc, snapshot, act),
    outside: nextOutside(doc, snapshot, act.event),
    readings: nextReadings(doc, snapshot, act.event),
    ...nextCounters(doc, snapshot, act),
  };
  return { ...next, stepSince: nextStepSince(doc, snapshot, next, act) };
};

/**
 * What entering a state makes of the context: facts that are not carried into it fall, and a phase
 * starts anew, its steps open and what is proved in it void.
 */
export const enter = (doc: Doc, state: StateId, context: Context, act: Act): Context => {
  const fallen = doc.facts.filter((row) => !row.lasts.includes(state)).flatMap((row) => keysOf(doc, row));
  const reopened = Object.keys(context.steps).filter((id) => findStep(doc.procedure, id)?.phase === state);
  return {
    ...context,
    facts: without(context.facts, fallen),
    steps: Object.fromEntries(Object.entries(context.steps).filter(([id]) => !reopened.includes(id))),
    stepSince: stampOf(act),
    outside: stillOutside(doc, state, context.outside),
    readings: {},
    waitSince: state === "waiting" ? context.waitSince : undefined,
    zeroAt: state === "zeroed" ? context.zeroAt : undefined,
    // Whatever else than a release makes a bottle be made safe is a doubt.
    doubt: context.doubt || (state === "making-safe" && act.event.type !== "released"),
  };
};
