import { advance, type Sequence } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import type { Act } from "../../core/sequence/vocabulary.ts";
import type { Documents } from "./independent-model.ts";
import type { Mutant } from "./mutants.ts";
import { type Heard, randomRuns } from "./random-run.ts";

/**
 * Runs on which the sequence and the independent model agreed, act by act: the measure that every
 * mutant is held against. It is plain data, so that workers can share it.
 */
export type Bank = { readonly documents: readonly Documents[]; readonly acts: readonly Banked[] };

export type Banked = {
  /** Index of the act before it in its run; -1 at the start. */
  readonly before: number;
  /** Index of its documents. */
  readonly on: number;
  readonly act: Act;
  readonly state: string;
  readonly refusedFor: string | undefined;
};

export const recordBank = (documents: readonly Documents[], seed: number, events: number): Bank => {
  const acts: Banked[] = [];
  const index = new Map<object, number>();
  const heard = ({ before, documents: doc, act, state, refusedFor }: Heard): void => {
    const on = index.get(doc) ?? documents.findIndex(({ procedure }) => procedure === doc.procedure);
    index.set(doc, on);
    acts.push({ before, on, act, state, refusedFor });
  };
  const { violations } = randomRuns({ documents, seed, events, heard });
  if (violations.length > 0) throw new Error(`the two accounts disagree: ${violations[0]}`);
  return { documents, acts };
};

const outcome = (sequence: Sequence, snapshot: Snapshot, act: Act) => {
  const result = advance(sequence, snapshot, act);
  return result.ok
    ? { snapshot: result.value, refusedFor: undefined }
    : { snapshot, refusedFor: [...new Set(result.issues.map(({ code }) => code))].sort().join() };
};

/** How many acts it took until the mutant was told from the sequence; undefined when nothing told. */
export const caughtAfter = (bank: Bank, mutant: Mutant): number | undefined => {
  const sequences = bank.documents.map((one) => mutant.sequenceOf(one));
  const snapshots: Snapshot[] = [];
  for (const [id, { before, on, act, state, refusedFor }] of bank.acts.entries()) {
    const sequence = sequences[on] as Sequence;
    const from = snapshots[before] ?? sequence.initial;
    const after = outcome(sequence, from, act);
    if (after.snapshot.state !== state || after.refusedFor !== refusedFor) return id + 1;
    snapshots.push(after.snapshot);
  }
  return undefined;
};
