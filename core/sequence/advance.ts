import { transition } from "xstate";
import type { Procedure } from "../procedure/procedure.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import type { Rig } from "../rig/rig.ts";
import { type Chart, createChart } from "./chart.ts";
import { type Doc, EMPTY, type Snapshot } from "./context.ts";
import { FACTS } from "./facts.ts";
import { HOLDS } from "./leads.ts";
import { type Missing, missing } from "./missing.ts";
import { MUST_DIFFER } from "./roles.ts";
import { RULES } from "./rules.ts";
import type { StateId } from "./states.ts";
import {
  type Act,
  type EventType,
  PERMISSION_TYPES,
  type PermissionType,
  type SequenceEvent,
  type Stamp,
} from "./vocabulary.ts";

/** A run's sequence: the chart bound to its rig and procedure. `advance` is the only door. */
export type Sequence = { readonly doc: Doc; readonly chart: Chart; readonly initial: Snapshot };

export type Tables = Pick<Doc, "facts" | "rules" | "holds" | "mustDiffer">;
export const TABLES: Tables = { facts: FACTS, rules: RULES, holds: HOLDS, mustDiffer: MUST_DIFFER };

/** `tables` is for proofs only: a table with a row taken out must make a check fail. */
export const createSequence = (rig: Rig, procedure: Procedure, tables: Tables = TABLES): Sequence => {
  const doc: Doc = { rig, procedure, ...tables };
  return { doc, chart: createChart(doc), initial: { state: "preparing", context: EMPTY } };
};

const notHere = (state: StateId, act: Act): Missing =>
  issue(
    "not-here",
    act.event.type,
    `this cannot be called while ${state.replace("-", " ")}`,
    "Follow the stage that is shown.",
  );

/**
 * Folds one act. Reports are always accepted; a permission is given, or refused with all that is
 * missing. Pure: the same snapshot and act give the same result.
 * @fails every fact and rule that is missing at this permission, or `not-here`
 */
export const advance = (sequence: Sequence, snapshot: Snapshot, act: Act): Result<Snapshot, Missing> => {
  if (answersTo(sequence, snapshot.state, act.event.type)) {
    const before = sequence.chart.resolveState({ value: snapshot.state, context: snapshot.context });
    const [after] = transition(sequence.chart, before, { type: act.event.type, act });
    if (after.context !== snapshot.context)
      return ok({ state: after.value as StateId, context: after.context });
  }
  const list = missing(sequence.doc, snapshot, act);
  return failed(...(list.length > 0 ? list : [notHere(snapshot.state, act)]));
};

/** Whether the chart has an edge for it in a state: all else is refused there without asking it. */
const answersTo = ({ chart }: Sequence, state: StateId, type: EventType): boolean =>
  chart.states[state]?.transitions.has(type) === true;

export type Permitted = { readonly type: PermissionType; readonly missing: readonly Missing[] };

/** What a bare call of each permission that this state knows would meet now: nothing missing means open. */
export const permitted = (
  sequence: Sequence,
  snapshot: Snapshot,
  now: Stamp & { readonly by: string },
): readonly Permitted[] => {
  return CALLS.filter((type) => answersTo(sequence, snapshot.state, type)).map((type) => {
    const event = { type } as SequenceEvent;
    return {
      type,
      missing: missing(sequence.doc, snapshot, { ...now, seq: snapshot.context.seq + 1, event }),
    };
  });
};

/** Permissions that carry nothing but the call itself. */
const CALLS = PERMISSION_TYPES.filter((type) =>
  [
    "fill-called",
    "seal-called",
    "mount-called",
    "restrain-called",
    "line-called",
    "air-called",
    "pressure-called",
    "arm-called",
    "release-called",
    "discharge-called",
    "wait-called",
    "close-called",
  ].includes(type),
);
