import type { Entry } from "../../core/record/entry.ts";
import { verifyEntries } from "../../core/record/verify.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { JournalRun, LooseAct, StoredRun } from "../ports.ts";
import { isSameAct } from "./jobs.ts";

/** A run as the store and the journal together know it. */
export type Reconciled = {
  /** What the store holds, checked. */
  readonly stored: readonly Entry[];
  /** Acknowledged entries that the store has lost and the journal kept: to be written again as they are. */
  readonly lost: readonly Entry[];
  /** What was said and shown, and never reached the log. */
  readonly pending: readonly LooseAct[];
  readonly findings: readonly Issue[];
};

/** Entries that follow the store's last; where they do not join it they are shown and left alone. */
const lostFrom = (
  stored: readonly Entry[],
  journal: JournalRun,
): { lost: readonly Entry[]; findings: readonly Issue[] } => {
  const rest = journal.entries.filter(({ seq }) => seq >= stored.length);
  if (rest.length === 0) return { lost: [], findings: [] };
  const joined = verifyEntries(rest, (i) => `journal entry ${rest[i]?.seq}`, stored.at(-1));
  if (!joined.ok) return { lost: [], findings: joined.issues };
  const detail = `the store had lost ${rest.length} acknowledged ${rest.length === 1 ? "entry" : "entries"}`;
  return {
    lost: rest,
    findings: [issue("recovered-from-journal", `entry ${stored.length}`, detail, "Export the run soon.")],
  };
};

/**
 * Joins the store's copy of a run with the journal's, by (log, seq, hash). The store's chain is the
 * run; the journal gives back its lost end, and whatever was pending.
 * @fails the faults of the stored chain
 */
export const reconcile = (
  stored: StoredRun | undefined,
  journal: JournalRun | undefined,
): Result<Reconciled> => {
  const verified = verifyEntries(stored?.entries ?? []);
  if (!verified.ok) return failed(...verified.issues);
  const entries = verified.value;
  if (!journal) return ok({ stored: entries, lost: [], pending: [], findings: [] });
  const differing = journal.entries
    .filter((entry) => entries[entry.seq] !== undefined && entries[entry.seq]?.hash !== entry.hash)
    .map(({ seq }) =>
      issue(
        "journal-differs",
        `entry ${seq}`,
        "the second copy says something else here",
        "Export the run and show it to whoever keeps the records.",
      ),
    );
  const { lost, findings } = lostFrom(entries, journal);
  const known = [...entries, ...lost];
  const pending = journal.pending.filter((act) => !known.some((entry) => isSameAct(entry, act)));
  return ok({ stored: entries, lost, pending, findings: [...differing, ...findings] });
};
