import type { Entry } from "../../core/record/entry.ts";
import { establishedBy } from "../../core/sequence/apply.ts";
import { type Context, type Doc, stands } from "../../core/sequence/context.ts";
import { isAlarm } from "../../core/sequence/gauges.ts";
import { LEADS } from "../../core/sequence/leads.ts";
import { railPosition, type StateId } from "../../core/sequence/states.ts";
import {
  type EventType,
  isReport,
  type ReportType,
  type SequenceEvent,
} from "../../core/sequence/vocabulary.ts";
import type { RunView } from "../session/live-run.ts";

/** What can be read off the log's last entries. Views only: nothing is decided by them. */

const isOfRun = (entry: Entry): entry is Entry & { event: SequenceEvent } =>
  entry.event.type !== "opened" && entry.event.type !== "kept";

/** Said by the page about itself rather than by the crew. */
const ASIDE: readonly EventType[] = ["refused", "clock-jumped", "noted", "power-low", "handed-over"];

export const lastSaid = (entries: readonly Entry[]): (Entry & { event: SequenceEvent }) | undefined =>
  entries.filter(isOfRun).findLast(({ event }) => !ASIDE.includes(event.type));

/** A new page in the run's story: what was answered before it is no longer "just caught". */
const TURNS = /-called$|^hold-cleared$|^restarted$/;

/** The newest answer that `pick` finds since the run last turned: only asked while the step is still open. */
export const caughtIn = <T>(
  entries: readonly Entry[],
  pick: (event: SequenceEvent) => T | undefined,
): T | undefined => {
  for (const entry of entries.toReversed()) {
    if (!isOfRun(entry)) continue;
    const found = pick(entry.event);
    if (found !== undefined) return found;
    if (TURNS.test(entry.event.type)) return undefined;
  }
  return undefined;
};

/** What was said and still counts, with what is said and not yet in the log at its end; struck entries aside. */
export type Said = { readonly seq: number; readonly event: SequenceEvent };

export const saidIn = ({ entries, pending }: Pick<RunView, "entries" | "pending">): readonly Said[] => {
  const after = (entries.at(-1)?.seq ?? -1) + 1;
  const said: readonly Said[] = [
    ...entries.filter(isOfRun),
    ...pending.map((event, i) => ({ seq: after + i, event })),
  ];
  const struck = new Set(said.map(({ event }) => (event.type === "corrected" ? event.entry : -1)));
  return said.filter(({ seq }) => !struck.has(seq));
};

/** What ends a called pull: it takes away what the call rested on, or says that all is open again. */
const breaksPull = (doc: Doc, { type }: SequenceEvent): boolean =>
  ["make-safe-called", "restarted", "corrected"].includes(type) ||
  doc.facts.some(
    ({ needs, voids }) =>
      needs.some(({ gate }) => gate === "discharge-called") && voids.some(({ on }) => on === type),
  );

/**
 * For rigs that are emptied by the release: does the log leave air in the bottle? `called`: a pull is
 * under way. `broken`: it was called, and what came since has ended it; nobody may pull on it. `air`:
 * something put it there and no release has been seen, or the look said so.
 */
export const lastPull = (
  doc: Doc,
  said: readonly Said[],
  look: string,
): "none" | "called" | "broken" | "air" => {
  let broken = false;
  for (const { event } of said.toReversed()) {
    if (event.type === "released") return "none";
    if (event.type === "discharge-called") return broken ? "broken" : "called";
    if (event.type === "air-called" || event.type === "air-seen-on" || event.type === "nothing-happened")
      return "air";
    if (event.type === "step-done" && event.step === look) return "air";
    broken ||= breaksPull(doc, event);
  }
  return "none";
};

/** Facts that stood before and do not stand now, and what an entry's correction would take away. */
export const fallen = (before: Context, after: Context): readonly string[] =>
  Object.keys(before.facts).filter((key) => after.facts[key] === undefined);

export const restingOn = (doc: Doc, context: Context, seq: number): readonly string[] => [
  ...new Set(establishedBy(doc, context.facts, seq).filter((key) => context.facts[key] !== undefined)),
];

/**
 * What the table says that an event voids, for telling the crew: read from the same rows that void it.
 * What is at home only further on was never proved, and need not be proved again.
 */
export const voidedByEvent = (doc: Doc, state: StateId, type: EventType): readonly string[] =>
  doc.facts
    .filter(({ home, voids }) => {
      const reached = home.some((phase) => railPosition(phase) <= railPosition(state));
      return reached && voids.some(({ on }) => on === type);
    })
    .map(({ id }) => id);

const TO_MAKING_SAFE: readonly EventType[] = [
  "nothing-happened",
  "released",
  "make-safe-called",
  "restraint-seen-open",
  "bottle-moved",
  "leak-seen",
  "water-in-line",
  "air-seen-on",
];

/** Where a stretch of the run begins, and by the rules of which state a reading is an alarm in it. */
const STRETCH: Partial<Record<EventType, StateId>> = {
  "air-called": "charging",
  "wait-called": "waiting",
  "unresolved-ended": "waiting",
  "approach-called": "approaching",
  "back-called": "preparing",
};

export type MadeSafeFor = {
  readonly why: EventType;
  /** A misfire that did go since: it keeps its name, but it no longer may go. */
  readonly went: boolean;
};

/**
 * What the run is being made safe for: the newest of what leads there in this stretch. A misfire keeps
 * its name, whatever is said after it, until the bottle is shown empty (SAFETY A28). An alarm counts
 * as a gauge that was read, whoever asked for the reading.
 */
export const whyMakingSafe = (
  doc: Doc,
  said: readonly Said[],
  shownEmpty: boolean,
): MadeSafeFor | undefined => {
  const from = said.findLastIndex(({ event }) => STRETCH[event.type] !== undefined);
  const begun = said[from];
  const phase = (begun && STRETCH[begun.event.type]) ?? "preparing";
  const causes = said.slice(from + 1).flatMap(({ event }): readonly EventType[] => {
    if (TO_MAKING_SAFE.includes(event.type)) return [event.type];
    return isAlarm(doc, phase, event) ? ["gauge-read"] : [];
  });
  const misfire = causes.lastIndexOf("nothing-happened");
  if (misfire >= 0 && !shownEmpty)
    return { why: "nothing-happened", went: causes.slice(misfire).includes("released") };
  const why = causes.at(-1);
  return why && { why, went: why === "released" };
};

/** Emptiness stands by the rig's declared evidence, or by the word that may stand in its place. */
export const isShownEmpty = (doc: Doc, context: Context): boolean =>
  context.facts["emptied-by-word"] !== undefined ||
  doc.facts
    .filter(({ standIn, onlyFor }) => standIn === "emptied-by-word" && onlyFor === doc.rig.emptying.kind)
    .every(({ id }) => stands(doc, context, id));

/**
 * What took the last release call away before it went: the call was made, and was void by then.
 * @param released  seq of the entry that says it went
 * @returns undefined where none was made in that build-up, or where the run was made safe meanwhile
 */
export const callVoidedBy = (said: readonly Said[], released: number): ReportType | undefined => {
  const before = said.filter(({ seq }) => seq < released).map(({ event }) => event);
  const call = before.findLastIndex(({ type }) => type === "release-called");
  if (call < 0 || before.findLastIndex(({ type }) => type === "air-called") > call) return undefined;
  const after = before.slice(call + 1).map(({ type }) => type);
  const ended = after.find(
    (type): type is ReportType => isReport(type) && LEADS[type]("zeroed") !== undefined,
  );
  return ended && LEADS[ended]("zeroed") !== "making-safe" ? ended : undefined;
};
