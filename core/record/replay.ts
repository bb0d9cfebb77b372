import { failed, type Issue, ok, type Result } from "../result.ts";
import { advance, type Sequence } from "../sequence/advance.ts";
import type { Snapshot } from "../sequence/context.ts";
import type { Missing } from "../sequence/missing.ts";
import type { Act } from "../sequence/vocabulary.ts";
import type { Entry, LogEvent, RecordEvent } from "./entry.ts";

/** Speaks of the keeping of the log, not of the run: the sequence does not hear it. */
export const isAboutTheRecord = (event: LogEvent): event is RecordEvent =>
  event.type === "opened" || event.type === "kept";

/**
 * Folds one entry into the state.
 * @fails whatever the sequence finds missing at this permission
 */
export const foldEntry = (
  sequence: Sequence,
  snapshot: Snapshot,
  entry: Entry,
): Result<Snapshot, Missing> => {
  const { event } = entry;
  if (isAboutTheRecord(event)) return ok(snapshot);
  const { seq, at, mono, session, by } = entry;
  const act: Act = { seq, at, mono, session, by, event };
  return advance(sequence, snapshot, act);
};

/**
 * The state that a log amounts to: nothing else is stored. A log that holds a permission which the
 * sequence would not have given was not written by it, or under other rules; every such entry is
 * named, and none is passed over in silence.
 * @fails the missing of every entry that would be refused, its number in `where`
 */
export const replay = (sequence: Sequence, entries: readonly Entry[]): Result<Snapshot> => {
  let snapshot = sequence.initial;
  const refused: Issue[] = [];
  for (const entry of entries) {
    const folded = foldEntry(sequence, snapshot, entry);
    if (folded.ok) snapshot = folded.value;
    else
      refused.push(
        ...folded.issues.map((missing) => ({ ...missing, where: `entry ${entry.seq}, ${missing.where}` })),
      );
  }
  return refused.length > 0 ? failed(...refused) : ok(snapshot);
};
