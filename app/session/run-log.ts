import { appendEntry } from "../../core/record/append.ts";
import type { Entry, LogEvent } from "../../core/record/entry.ts";
import { foldEntry } from "../../core/record/replay.ts";
import { verifyEntries } from "../../core/record/verify.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { Sequence } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import type { Stamp } from "../../core/sequence/vocabulary.ts";
import type { RunStore } from "../ports.ts";

export type LooseEntry = Stamp & { readonly by: string; readonly event: LogEvent };

/** The durable part of a run: its entries so far and the state that they fold to. */
export type Durable = { readonly entries: readonly Entry[]; readonly snapshot: Snapshot };

export type RunLog = {
  readonly durable: () => Durable;
  /**
   * Seals an act to the last entry and writes it. `adopted` is called in the same breath as the
   * durable state changes, so that no view ever shows an entry both durable and pending. Where the
   * log turns out to have moved on, what stands there is adopted instead: judge and append again.
   * @fails whatever the store says; another-writer when the log has moved on without us
   */
  readonly append: (loose: LooseEntry) => Promise<Result<void>>;
};

export type RunLogParts = {
  readonly store: RunStore;
  readonly sequence: Sequence;
  readonly log: string;
  readonly device: string;
  /** Only the holder of the writer lock may take over entries that it did not see being written. */
  readonly mayAdopt: () => boolean;
  /** `late`: found in the store, though its writing was reported as failed or came from elsewhere. */
  readonly adopted: (entry: Entry, late: boolean) => void;
};

const broken = (entry: Entry, issues: readonly Issue[]): Issue =>
  issue(
    "log-does-not-fold",
    `entry ${entry.seq}`,
    `the stored log says what this sequence would refuse: ${issues.map(({ detail }) => detail).join("; ")}`,
    "Make safe by the paper card and export the run.",
  );

export const createRunLog = (parts: RunLogParts, start: Durable): RunLog => {
  const { store, sequence, log, device } = parts;
  let durable = start;

  const adopt = (entry: Entry, late: boolean): Result<void> => {
    const folded = foldEntry(sequence, durable.snapshot, entry);
    if (!folded.ok) return failed(broken(entry, folded.issues));
    durable = { entries: [...durable.entries, entry], snapshot: folded.value };
    parts.adopted(entry, late);
    return ok(undefined);
  };

  /**
   * The store holds another entry at our next place. A write that was reported as failed can have
   * reached the disk all the same, and whoever held the lock before us may have finished one: what
   * is in the log is the truth, so it is taken over, checked, and the crew is told.
   */
  const catchUp = async (): Promise<Result<void>> => {
    const remedy = "One page writes a run: go on in the other one, or take over.";
    if (!parts.mayAdopt())
      return failed(issue("another-writer", log, "another page has gone on with this run", remedy));
    const stored = await store.read(log);
    if (!stored.ok) return stored;
    const tail = durable.entries.at(-1);
    const news = stored.value.entries.slice(durable.entries.length);
    const verified = verifyEntries(news, (i) => `entry ${durable.entries.length + i}`, tail);
    if (!verified.ok) return verified;
    // Without news the next try would meet the same refusal, for ever.
    if (news.length === 0)
      return failed(issue("store-contradicts-itself", log, "a place is taken, yet nothing is there", remedy));
    for (const entry of verified.value) {
      const taken = adopt(entry, true);
      if (!taken.ok) return taken;
    }
    return ok(undefined);
  };

  const append = async (loose: LooseEntry): Promise<Result<void>> => {
    const sealed = appendEntry(durable.entries.at(-1), { ...loose, log, device });
    if (!sealed.ok) return sealed;
    const written = await store.append(sealed.value);
    if (written.ok) return adopt(sealed.value, false);
    if (!written.issues.some(({ code }) => code === "entry-exists")) return written;
    return catchUp();
  };

  return { durable: () => durable, append };
};
