import { findStep, isCritical, type Step } from "../procedure/procedure.ts";
import { readingValue } from "../record/reading-value.ts";
import { insideWindow } from "./clock.ts";
import {
  type Context,
  type Doc,
  type Hold,
  keysOf,
  type Snapshot,
  type Standing,
  stepAtHand,
} from "./context.ts";
import { type FactId, type FactRow, factKey } from "./facts.ts";
import { holdsRun } from "./leads.ts";
import { isCold, isFinal, isLive, type StateId } from "./states.ts";
import { type Act, type HoldKind, isReport, type SequenceEvent } from "./vocabulary.ts";

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

/** The keys of a row that an event voids: all of them, or that of the restraint it names. */
const voidedBy = (doc: Doc, row: FactRow, event: SequenceEvent): readonly string[] =>
  row.voids
    .filter((entry) => entry.on === event.type)
    .flatMap((entry) => {
      if (entry.scope !== "same") return keysOf(doc, row);
      return "restraint" in event ? [factKey(row.id, event.restraint)] : [];
    });

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
  if (event.type === "corrected") return [...byTable, ...establishedBy(doc, facts, event.entry)];
  // Looking again in round one, or finding it other than home, ends what rested on the last look.
  const looked = event.type === "restraint-answered" && (event.round === 1 || event.answer !== "home");
  return looked ? [factKey("first-look", event.restraint), ...dependentKeys(doc, "first-look")] : byTable;
};

/** Whether a step's answer is the good one; a form without answers has only that. */
export const isGood = (
  doc: Doc,
  step: Step,
  event: Extract<SequenceEvent, { type: "step-done" }>,
): boolean => {
  const { form } = step;
  if (form.kind === "look") return form.answers.some(({ text, good }) => good && text === event.answer);
  if (form.kind !== "measure") return true;
  const value = event.reading && readingValue(event.reading, form.quantity);
  if (!value?.ok) return false;
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = form.band;
  const limit =
    form.quantity === "pressure" && form.instrument !== doc.rig.supply.gauge ? doc.rig.bottle.limit_Pa : max;
  return value.value >= min && value.value <= Math.min(max, limit);
};

const provenKeys = (doc: Doc, event: SequenceEvent): readonly string[] => {
  if (event.type === "step-done") {
    const step = findStep(doc.procedure, event.step)?.step;
    return step && isGood(doc, step, event) ? step.proves.map((id) => factKey(id)) : [];
  }
  if (event.type === "restraint-answered")
    return event.answer === "home"
      ? [factKey(event.round === 1 ? "first-look" : "second-look", event.restraint)]
      : [];
  return doc.facts.filter((row) => row.by === event.type).map((row) => factKey(row.id));
};

const sayer = (act: Act): string => {
  const { event } = act;
  if ("seenBy" in event) return event.seenBy;
  return "person" in event ? event.person : act.by;
};

const nextFacts = (doc: Doc, context: Context, act: Act): Facts => {
  const kept = without(context.facts, voidedKeys(doc, context.facts, act.event));
  const keys = provenKeys(doc, act.event);
  if (keys.length === 0) return kept;
  const standing: Standing = {
    at: act.at,
    mono: act.mono,
    session: act.session,
    seq: act.seq,
    person: sayer(act),
  };
  return { ...kept, ...Object.fromEntries(keys.map((key) => [key, standing])) };
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

const holdKind = (doc: Doc, { state, context }: Snapshot, event: SequenceEvent): HoldKind | undefined => {
  if (isFinal(state)) return undefined;
  const step = stepAtHand(doc, { state, context });
  switch (event.type) {
    case "hold-called":
      return "called";
    case "restarted":
      return isCold(state) ? "restart" : undefined;
    case "interrupted":
      return isLive(state) || (isCold(state) && step && isCritical(step)) ? "interruption" : undefined;
    case "restraint-answered":
      return event.round === 2 && event.answer !== "home" ? "finding" : undefined;
    case "step-done":
      return step?.hold && !isGood(doc, step, event) ? "finding" : undefined;
    default:
      return isReport(event.type) && holdsRun(event.type, state) ? "finding" : undefined;
  }
};

/** A finding outranks any other hold; otherwise the first hold stands until two people clear it. */
const nextHold = (doc: Doc, snapshot: Snapshot, act: Act): Hold | undefined => {
  const { hold } = snapshot.context;
  if (act.event.type === "hold-cleared") return undefined;
  const kind = holdKind(doc, snapshot, act.event);
  if (!kind || (hold && (kind !== "finding" || hold.kind === "finding"))) return hold;
  const why = "why" in act.event && act.event.why !== "" ? act.event.why : act.event.type;
  const step = stepAtHand(doc, snapshot);
  return { kind, by: act.by, why, seq: act.seq, ...(step && { step: step.id }) };
};

/** A gauge's last word: inside or outside. The supply is judged by its own band, all else by the bottle's limit. */
const nextOutside = (doc: Doc, context: Context, event: SequenceEvent): readonly string[] => {
  const judge = (instrument: string, inside: boolean): readonly string[] => {
    const others = context.outside.filter((name) => name !== instrument);
    return inside ? others : [...others, instrument];
  };
  if (event.type === "step-done") {
    const step = findStep(doc.procedure, event.step)?.step;
    if (step?.form.kind !== "measure") return context.outside;
    return judge(step.form.instrument, isGood(doc, step, event));
  }
  if (event.type !== "gauge-read") return context.outside;
  const value = readingValue(event.reading, "pressure");
  const { gauge } = event;
  const { supply, bottle } = doc.rig;
  const inside =
    value.ok &&
    (gauge === supply.gauge
      ? value.value >= supply.workingMin_Pa && value.value <= supply.workingMax_Pa
      : value.value <= bottle.limit_Pa);
  return judge(gauge, inside);
};

type Counters = Pick<
  Context,
  "buildUps" | "zeros" | "pulls" | "pressureSince" | "zeroAt" | "waitSince" | "doubt" | "release"
>;

const nextCounters = (doc: Doc, { state, context }: Snapshot, act: Act): Counters => {
  const { buildUps, zeros, pulls, pressureSince, zeroAt, waitSince, doubt, release } = context;
  const same: Counters = { buildUps, zeros, pulls, pressureSince, zeroAt, waitSince, doubt, release };
  const stamp = { at: act.at, mono: act.mono, session: act.session };
  switch (act.event.type) {
    case "air-called":
      // Topping up is the same build-up: only air on a cold bottle opens a new one.
      return state === "charged"
        ? same
        : {
            ...same,
            buildUps: buildUps + 1,
            zeros: 0,
            pulls: 0,
            pressureSince: stamp,
            doubt: true,
            release: undefined,
          };
    case "release-called":
      return { ...same, zeros: zeros + 1, zeroAt: { ...stamp, seq: act.seq } };
    case "released": {
      const called = state === "zeroed" && zeroAt !== undefined;
      const onTime = called && insideWindow(zeroAt, act, doc.rig.limits.zeroToRelease_s * 1000);
      // A discharge was counted when it was called: what came of it is no further pull.
      const pulled = isLive(state) ? pulls + 1 : pulls;
      return { ...same, pulls: pulled, doubt: !isLive(state), release: { seq: act.seq, onTime, called } };
    }
    case "nothing-happened":
      return { ...same, pulls: isLive(state) ? pulls + 1 : pulls, doubt: true };
    case "discharge-called":
      return { ...same, pulls: pulls + 1, doubt: true };
    case "make-safe-called":
    case "air-seen-on":
    case "restarted":
    case "unresolved-declared":
      return { ...same, doubt: true };
    case "wait-called":
    case "unresolved-ended":
      return { ...same, waitSince: stamp };
    case "clock-jumped":
      return waitSince ? { ...same, waitSince: stamp } : same;
    default:
      return same;
  }
};

const nextCrew = (context: Context, event: SequenceEvent): Pick<Context, "crew" | "held" | "holder"> => {
  const { crew, held, holder } = context;
  if (event.type === "handed-over") return { crew, held, holder: event.to };
  if (event.type !== "signed-on") return { crew, held, holder };
  const { person, role } = event;
  return {
    crew: { ...crew, [role]: person },
    held: { ...held, [person]: [...(held[person] ?? []), role] },
    holder: holder ?? (role === "conductor" ? person : undefined),
  };
};

/** What an accepted act makes of the context, before the state that it leads to is entered. */
export const apply = (doc: Doc, snapshot: Snapshot, act: Act): Context => ({
  seq: act.seq,
  stepSince:
    act.event.type === "step-done"
      ? { at: act.at, mono: act.mono, session: act.session }
      : snapshot.context.stepSince,
  facts: nextFacts(doc, snapshot.context, act),
  steps: nextSteps(doc, snapshot.context, act),
  ...nextCrew(snapshot.context, act.event),
  hold: nextHold(doc, snapshot, act),
  outside: nextOutside(doc, snapshot.context, act.event),
  ...nextCounters(doc, snapshot, act),
});

/**
 * What entering a state makes of the context: facts that cannot stand there fall, and a phase
 * starts anew, its steps open and what is proved in it void.
 */
export const enter = (doc: Doc, state: StateId, context: Context, act: Act): Context => {
  const fallen = doc.facts
    .filter((row) => !row.lasts.includes(state) || row.home.includes(state))
    .flatMap((row) => keysOf(doc, row));
  const reopened = Object.keys(context.steps).filter((id) => findStep(doc.procedure, id)?.phase === state);
  return {
    ...context,
    facts: without(context.facts, fallen),
    steps: Object.fromEntries(Object.entries(context.steps).filter(([id]) => !reopened.includes(id))),
    stepSince: { at: act.at, mono: act.mono, session: act.session },
    waitSince: state === "waiting" ? context.waitSince : undefined,
    zeroAt: state === "zeroed" ? context.zeroAt : undefined,
  };
};
