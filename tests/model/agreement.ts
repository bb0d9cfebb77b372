import type { Snapshot } from "../../core/sequence/context.ts";
import { EVIDENCE, holding, keysOf } from "./independent/evidence.ts";
import type { Documents, Memory } from "./independent/memory.ts";

/** Where the snapshot and the model's memory of the same log tell different stories; empty when they agree. */
export const disagreements = (docs: Documents, snapshot: Snapshot, memory: Memory): readonly string[] => {
  const { context, state } = snapshot;
  const out: string[] = [];
  const same = (what: string, ours: unknown, theirs: unknown): void => {
    if (ours !== theirs) out.push(`${what}: ${ours} against ${theirs}`);
  };
  const sameMaps = (what: string, ours: object, theirs: object): void => {
    const keys = Object.keys(ours);
    if (keys.length !== Object.keys(theirs).length || keys.some((key) => !(key in theirs)))
      out.push(`${what}: ${keys} against ${Object.keys(theirs)}`);
  };
  same("state", state, memory.state);
  for (const id in EVIDENCE)
    for (const key of keysOf(docs, id))
      same(key, context.facts[key] !== undefined, holding(docs, memory, key) !== undefined);
  const holds = context.hold ? [context.hold, ...context.furtherHolds] : [];
  same("holds", holds.map(({ by }) => by).join(), memory.holds.map(({ by }) => by).join());
  same("outside", [...context.outside].sort().join(), [...memory.amiss].sort().join());
  same("zeros", context.zeros, memory.zeros);
  same("pulls", context.pulls, memory.pulls);
  sameMaps("crew", context.crew, memory.roles);
  sameMaps("steps", context.steps, memory.steps);
  same("phone", context.holder, memory.phone);
  // Whether the long wait applies is asked for only while it can.
  if (state === "making-safe" || state === "waiting")
    same("doubt", context.doubt, memory.seenRelease === undefined);
  same("on time", context.release?.onTime, memory.onTime);
  same("wait", context.waitSince?.at, memory.waitFrom?.at);
  same("zero", context.zeroAt?.at, memory.zeroAt?.at);
  return out;
};
