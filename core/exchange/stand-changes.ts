import { PHASES, type Procedure, type Step } from "../procedure/procedure.ts";
import type { WrittenDocuments } from "../procedure/rig-numbers.ts";

/** One place in which two versions of a stand differ; undefined where one of them has nothing there. */
export type StandChange = {
  readonly where: string;
  readonly before: string | undefined;
  readonly after: string | undefined;
};

/**
 * Where a stand differs from what this device has: every number of the rig, every step of the procedure.
 * For whoever has to say that the new one is to go by.
 */
export const standChanges = (before: WrittenDocuments, after: WrittenDocuments): readonly StandChange[] => [
  ...differences("rig", before.rig, after.rig),
  ...differences("procedure", headOf(before.written), headOf(after.written)),
  ...PHASES.flatMap((phase) => [
    ...differences(phase, byId(before.written.phases[phase]), byId(after.written.phases[phase])),
    ...otherOrder(phase, before.written.phases[phase], after.written.phases[phase]),
  ]),
];

const headOf = ({ phases: _, ...head }: Procedure) => head;

const byId = (steps: readonly Step[]) => Object.fromEntries(steps.map(({ id, ...step }) => [id, step]));

/** Every value that is no object, by its path. */
function leavesOf(value: unknown, path: string): readonly (readonly [string, string])[] {
  if (typeof value !== "object" || value === null) return [[path, String(value)]];
  return Object.entries(value).flatMap(([key, item]) => leavesOf(item, `${path} ${key}`));
}

function differences(of: string, before: object, after: object): readonly StandChange[] {
  const [old, now] = [new Map(leavesOf(before, of)), new Map(leavesOf(after, of))];
  return [...new Set([...old.keys(), ...now.keys()])]
    .map((where) => ({ where, before: old.get(where), after: now.get(where) }))
    .filter((change) => change.before !== change.after);
}

/** Steps that both have, in another order. */
function otherOrder(phase: string, before: readonly Step[], after: readonly Step[]): readonly StandChange[] {
  const shared = (steps: readonly Step[], others: readonly Step[]) =>
    steps
      .map(({ id }) => id)
      .filter((id) => others.some((other) => other.id === id))
      .join(", ");
  const [old, now] = [shared(before, after), shared(after, before)];
  return old === now ? [] : [{ where: `${phase}, order of steps`, before: old, after: now }];
}
