import type { Entry } from "../../core/record/entry.ts";
import { establishedBy } from "../../core/sequence/apply.ts";
import type { Context, Doc } from "../../core/sequence/context.ts";
import type { EventType, SequenceEvent } from "../../core/sequence/vocabulary.ts";

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

/**
 * For rigs that are emptied by the release: does the log leave air in the bottle? `called`: a pull is
 * under way. `air`: something put it there and no release has been seen, or the look said so.
 */
export const lastPull = (entries: readonly Entry[], look: string): "none" | "called" | "air" => {
  for (const entry of entries.toReversed()) {
    if (!isOfRun(entry)) continue;
    const { event } = entry;
    if (event.type === "released") return "none";
    if (event.type === "discharge-called") return "called";
    if (event.type === "air-called" || event.type === "air-seen-on" || event.type === "nothing-happened")
      return "air";
    if (event.type === "step-done" && event.step === look) return "air";
  }
  return "none";
};

/** Facts that stood before and do not stand now, and what an entry's correction would take away. */
export const fallen = (before: Context, after: Context): readonly string[] =>
  Object.keys(before.facts).filter((key) => after.facts[key] === undefined);

export const restingOn = (doc: Doc, context: Context, seq: number): readonly string[] => [
  ...new Set(establishedBy(doc, context.facts, seq).filter((key) => context.facts[key] !== undefined)),
];

/** What the table says that an event voids, for telling the crew: read from the same rows that void it. */
export const voidedByEvent = (doc: Doc, type: string | undefined): readonly string[] =>
  doc.facts.filter((row) => row.voids.some(({ on }) => on === type)).map(({ id }) => id);

const TO_MAKING_SAFE: readonly EventType[] = [
  "nothing-happened",
  "released",
  "make-safe-called",
  "restraint-seen-open",
  "bottle-moved",
  "leak-seen",
  "water-in-line",
  "air-seen-on",
  "gauge-read",
];

/** What the run is being made safe for: the newest of what leads there. */
export const whyMakingSafe = (entries: readonly Entry[]): EventType | undefined =>
  entries.filter(isOfRun).findLast(({ event }) => TO_MAKING_SAFE.includes(event.type))?.event.type;
