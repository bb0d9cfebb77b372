import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import type { Tail } from "./append.ts";
import { canonicalEntry } from "./canonical.ts";
import { digest, NOTHING_BEFORE } from "./digest.ts";

/** What the chain rests on; everything else of an entry is covered by its hash. */
export type Sealed = {
  readonly log: string;
  readonly seq: number;
  readonly prev: string;
  readonly hash: string;
};

const COPY_AGAIN = "Take the run from the phone again; this copy is not what was written.";

const sealFault = (entry: Sealed, where: string): readonly Issue[] => {
  const { hash, ...open } = entry;
  const text = canonicalEntry(open);
  if (!text.ok) return text.issues.map((fault) => ({ ...fault, where: `${where}, ${fault.where}` }));
  return digest(text.value) === hash
    ? []
    : [issue("entry-changed", where, "its content does not fit its own digest", COPY_AGAIN)];
};

const orderFaults = (entry: Sealed, tail: Tail, log: string, where: string): readonly Issue[] => {
  const expected = tail ? tail.seq + 1 : 0;
  const found: Issue[] = [];
  if (entry.log !== log)
    found.push(issue("entry-of-another-log", where, `it belongs to ${entry.log}, not to ${log}`, COPY_AGAIN));
  if (entry.seq !== expected)
    found.push(
      issue("entry-out-of-order", where, `number ${entry.seq} stands where ${expected} belongs`, COPY_AGAIN),
    );
  else if (entry.prev !== (tail ? tail.hash : NOTHING_BEFORE))
    found.push(
      issue("entry-unlinked", where, "it was not written after the entry that stands before it", COPY_AGAIN),
    );
  return found;
};

/**
 * Checks that entries are exactly those that were written, in their order: each one's digest, its
 * number, its link to the one before, one log throughout.
 * @param where  names an entry in the issues: "line 7" of a file, "entry 3" of a store
 * @param after  the entry that stands before the first of these, where they are the end of a longer log
 * @param log  the log they must belong to; left out, the first one's
 * @fails entry-changed, entry-unlinked, entry-out-of-order, entry-of-another-log, value-unstable:
 *   every fault of every entry
 */
export const verifyEntries = <E extends Sealed>(
  entries: readonly E[],
  where: (index: number) => string = (index) => `entry ${index}`,
  after?: Tail,
  log: string = entries[0]?.log ?? "",
): Result<readonly E[]> => {
  const found = entries.flatMap((entry, i) => [
    ...sealFault(entry, where(i)),
    ...orderFaults(entry, entries[i - 1] ?? after, log, where(i)),
  ]);
  return found.length > 0 ? failed(...found) : ok(entries);
};
