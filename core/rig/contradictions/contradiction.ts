import type { Issue } from "../../result.ts";
import type { Rig } from "../rig.ts";

/**
 * Fields that are each in order and yet cannot all be true. A contradiction sees only the parts it
 * names, so that it can be judged as soon as those are readable, whatever is wrong elsewhere.
 */
export type Contradiction = {
  readonly reads: readonly (keyof Rig)[];
  readonly find: (rig: Rig) => readonly Issue[];
};

export const among = <K extends keyof Rig>(
  reads: readonly K[],
  find: (rig: Pick<Rig, K>) => readonly Issue[],
): Contradiction => ({ reads, find });

/** The issue where the condition holds, else nothing. */
export const when = (wrong: boolean, issue: () => Issue): readonly Issue[] => (wrong ? [issue()] : []);
