import type { Entry } from "../../core/record/entry.ts";
import { replay } from "../../core/record/replay.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import { createSequence, type Sequence } from "../../core/sequence/advance.ts";
import type { Journal, JournalRun, LooseAct, RunDocuments, RunStore, StoredRun } from "../ports.ts";
import { reconcile } from "./reconcile.ts";
import type { Durable } from "./run-log.ts";

/** A run as it was found: checked, folded, with what opening it brought to light. */
export type Loaded = {
  readonly code: string;
  readonly documents: RunDocuments;
  readonly sequence: Sequence;
  readonly durable: Durable;
  readonly pending: readonly LooseAct[];
  readonly findings: readonly Issue[];
  /** Durable entries that the journal ought to have and has not, such as one that was written as the page died. */
  readonly unjournaled: readonly Entry[];
  /** Why the store could not be asked: the journal stands in, and no gate opens until it can. */
  readonly trouble: readonly Issue[];
};

const isNotFound = (issues: readonly Issue[]): boolean => issues.some(({ code }) => code === "run-not-found");

/** Writes again, unchanged, what the store has lost: the chain itself says where it belongs. */
const writeLost = async (
  store: RunStore,
  log: string,
  stored: StoredRun | undefined,
  journal: JournalRun | undefined,
  lost: Durable["entries"],
): Promise<readonly Issue[]> => {
  if (!stored && journal) {
    const created = await store.create(log, journal.code, journal.documents);
    if (!created.ok) return created.issues;
  }
  for (const entry of lost) {
    const written = await store.append(entry);
    if (!written.ok) return written.issues;
  }
  return [];
};

/**
 * Reads a run from the store and from the journal, checks the chain, writes back what the store
 * had lost, and folds. Writing is for the writer only: a viewer shows what it finds.
 * @fails run-not-found, store-unavailable with an empty journal, the faults of the chain,
 *   and whatever the sequence refuses of the log
 */
export const loadRun = async (
  ports: { readonly store: RunStore; readonly journal: Journal },
  log: string,
  writer: boolean,
): Promise<Result<Loaded>> => {
  const read = await ports.store.read(log);
  const kept = ports.journal.read(log);
  const journal = kept.ok ? kept.value : undefined;
  const stored = read.ok ? read.value : undefined;
  const from = stored ?? journal;
  if (!from) return failed(...(read.ok ? [] : read.issues), ...(kept.ok ? [] : kept.issues));

  const joined = reconcile(stored, journal);
  if (!joined.ok) return joined;
  const { lost, pending, findings } = joined.value;
  const entries = [...joined.value.stored, ...lost];
  // A second copy with a gap could show a cold stand that is charged: it stands in for nothing.
  if (entries.length === 0)
    return failed(
      ...(read.ok ? [] : read.issues),
      ...findings,
      issue("run-empty", log, "nothing of the run can be read", "Treat it as pressurized: paper card."),
    );
  const sequence = createSequence(from.documents.rig, from.documents.procedure);
  const folded = replay(sequence, entries);
  if (!folded.ok) return folded;

  const askable = read.ok || isNotFound(read.issues);
  const unwritten = askable && writer ? await writeLost(ports.store, log, stored, journal, lost) : [];
  return ok({
    code: from.code,
    documents: from.documents,
    sequence,
    durable: { entries, snapshot: folded.value },
    pending,
    unjournaled: entries.filter(
      ({ seq }) =>
        seq > (journal?.exportedThrough ?? -1) && !journal?.entries.some((kept) => kept.seq === seq),
    ),
    findings: [...findings, ...(kept.ok ? [] : kept.issues)],
    trouble: read.ok || isNotFound(read.issues) ? unwritten : read.issues,
  });
};
