import { advance, type Sequence } from "../../core/sequence/advance.ts";
import type { Act } from "../../core/sequence/vocabulary.ts";
import type { Node } from "./abstraction.ts";
import { disagreements } from "./agreement.ts";
import { afterwards, broken, judge } from "./independent-model.ts";

/** What came of one act when the real sequence and the independent model took it side by side. */
export type Outcome = {
  /** Broken invariants and disagreements, in words; empty when all is well. */
  readonly wrong: readonly string[];
  /** Refusals by code; empty when the act was accepted. */
  readonly refusedFor: readonly string[];
  readonly next: Node | undefined;
};

const sorted = (codes: readonly string[]): string => [...new Set(codes)].sort().join();

export const inLockstep = (sequence: Sequence, node: Node, act: Act): Outcome => {
  const { doc } = sequence;
  const result = advance(sequence, node.snapshot, act);
  const verdict = judge(doc, node.memory, act);
  const wrong: string[] = [];
  const state = result.ok ? result.value.state : node.snapshot.state;
  const held = result.ok && result.value.context.hold !== undefined;
  for (const number of broken(doc, { before: node.memory, act, accepted: result.ok, state, held }))
    wrong.push(`invariant ${number}`);
  if (!result.ok) {
    const refusedFor = result.issues.map(({ code }) => code);
    const theirs = verdict.accepted ? "nothing" : sorted(verdict.codes);
    if (sorted(refusedFor) !== theirs) wrong.push(`refused for ${sorted(refusedFor)}, not for ${theirs}`);
    return { wrong, refusedFor, next: undefined };
  }
  if (!verdict.accepted) wrong.push(`accepted, to be refused for ${sorted(verdict.codes)}`);
  else if (verdict.state !== state) wrong.push(`led to ${state}, not to ${verdict.state}`);
  const memory = afterwards(doc, node.memory, act, state);
  wrong.push(...disagreements(doc, result.value, memory));
  return {
    wrong,
    refusedFor: [],
    next: { snapshot: result.value, memory, session: act.session, seq: node.seq + 1 },
  };
};
