import { advance, createSequence, permitted, type Sequence } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import type { Act } from "../../core/sequence/vocabulary.ts";
import { deviate } from "./deviations.ts";
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
  readonly from: string;
  readonly state: string;
  readonly refusedFor: string | undefined;
  /** What each call would meet right after it: a fact that fell shows before anybody misses it. */
  readonly shut: string;
  /** The odd word after which the crew is being followed here. */
  readonly deviation?: string;
};

export type BankWanted = {
  /** Random runs go over these. */
  readonly documents: readonly Documents[];
  readonly seed: number;
  readonly events: number;
  /** These, the first few of the documents, are gone through word by word. */
  readonly wordByWord: number;
};

export const recordBank = ({ documents, seed, events, wordByWord }: BankWanted): Bank => {
  const acts: Omit<Banked, "shut">[] = [];
  const index = new Map<object, number>();
  const heard = (told: Heard & { readonly deviation?: string }): void => {
    const { id: _, documents: doc, ...rest } = told;
    const on = index.get(doc) ?? documents.findIndex(({ procedure }) => procedure === doc.procedure);
    index.set(doc, on);
    acts.push({ ...rest, on });
  };
  const { violations } = randomRuns({ documents, seed, events, heard });
  if (violations.length > 0) throw new Error(`the two accounts disagree: ${violations[0]}`);
  for (const { rig, procedure } of documents.slice(0, wordByWord)) {
    const sequence = createSequence(rig, procedure);
    deviate({ sequence, seeds: [1, 2, 3], follow: 12, heard, firstId: acts.length });
  }
  return { documents, acts: asked(documents, acts) };
};

const outcome = (sequence: Sequence, snapshot: Snapshot, act: Act) => {
  const result = advance(sequence, snapshot, act);
  return result.ok
    ? { snapshot: result.value, refusedFor: undefined }
    : { snapshot, refusedFor: [...new Set(result.issues.map(({ code }) => code))].sort().join() };
};

const shutAfter = (sequence: Sequence, snapshot: Snapshot, act: Act): string =>
  permitted(sequence, snapshot, act)
    .map(({ type, missing }) => `${type}: ${missing.map(({ code }) => code).join()}`)
    .join("; ");

/** Goes through the acts with the sequence itself, and asks after each what is shut. */
const asked = (documents: readonly Documents[], acts: readonly Omit<Banked, "shut">[]): readonly Banked[] => {
  const sequences = documents.map(({ rig, procedure }) => createSequence(rig, procedure));
  const snapshots: Snapshot[] = [];
  return acts.map((banked) => {
    const sequence = sequences[banked.on]!;
    const { snapshot } = outcome(sequence, snapshots[banked.before] ?? sequence.initial, banked.act);
    snapshots.push(snapshot);
    return { ...banked, shut: shutAfter(sequence, snapshot, banked.act) };
  });
};

/** A mutant going through the bank, in any order: what came before an act is gone through first. */
class Trial {
  private readonly snapshots: (Snapshot | undefined)[] = [];
  private readonly sequences: readonly Sequence[];
  tried = 0;

  constructor(
    private readonly bank: Bank,
    mutant: Mutant,
  ) {
    this.sequences = bank.documents.map((one) => mutant.sequenceOf(one));
  }

  /** Whether this act, or one on the way to it, tells the mutant from the sequence. */
  tells(id: number): boolean {
    const way: number[] = [];
    for (let at = id; at >= 0 && !this.snapshots[at]; at = this.bank.acts[at]!.before) way.push(at);
    return way.reverse().some((at) => this.differs(at));
  }

  private differs(id: number): boolean {
    const { before, on, act, state, refusedFor, shut } = this.bank.acts[id]!;
    const sequence = this.sequences[on]!;
    const after = outcome(sequence, this.snapshots[before] ?? sequence.initial, act);
    this.tried += 1;
    this.snapshots[id] = after.snapshot;
    if (after.snapshot.state !== state || after.refusedFor !== refusedFor) return true;
    return shutAfter(sequence, after.snapshot, act) !== shut;
  }
}

/** How many acts it took until the mutant was told from the sequence; undefined when nothing told. */
export const caughtAfter = (bank: Bank, mutant: Mutant): number | undefined => {
  const trial = new Trial(bank, mutant);
  const { events, from } = mutant.about;
  const speaksOf = ({ act, deviation, from: where }: Banked): boolean =>
    (events.includes(act.event.type) && (from === undefined || from === where)) ||
    (deviation !== undefined && events.includes(deviation));
  // What speaks of the matter first: most are told by the first word.
  for (const [id, banked] of bank.acts.entries()) if (speaksOf(banked) && trial.tells(id)) return trial.tried;
  for (const id of bank.acts.keys()) if (trial.tells(id)) return trial.tried;
  return undefined;
};
