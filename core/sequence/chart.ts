import { assign, setup } from "xstate";
import { apply, enter, establishedBy } from "./apply.ts";
import { type Context, type Doc, EMPTY } from "./context.ts";
import { isAlarm } from "./gauges.ts";
import { LEADS } from "./leads.ts";
import { missing } from "./missing.ts";
import { isCold, isFinal, isHot, isLive, STATES, type StateId, tagsOf } from "./states.ts";
import type { Act, BackTarget, EventType, PermissionType } from "./vocabulary.ts";
import { REPORT_TYPES } from "./vocabulary.ts";

/**
 * The chart: fixed code, flat, without timers (time enters as the stamps of logged events).
 * Forward edges are guarded by what is missing; every report is accepted in every state; every
 * accepted event changes the context, so "unchanged" means refused.
 */

export type ChartEvent = { readonly type: EventType; readonly act: Act };

type Edge = { readonly from: StateId; readonly on: PermissionType; readonly to?: StateId };

/** The states in which a step can be done: those that a procedure fills. */
const WITH_STEPS: readonly StateId[] = [
  "preparing",
  "filling",
  "sealing",
  "mounting",
  "restraining",
  "clearing",
  "charging",
  "charged",
  "armed",
  "making-safe",
  "approaching",
];
const COLD: readonly StateId[] = ["preparing", "filling", "sealing", "mounting", "restraining", "clearing"];

/** One step on: the spine of the sequence. */
const FORWARD: readonly Edge[] = [
  { from: "preparing", on: "fill-called", to: "filling" },
  { from: "filling", on: "seal-called", to: "sealing" },
  { from: "sealing", on: "mount-called", to: "mounting" },
  { from: "mounting", on: "restrain-called", to: "restraining" },
  { from: "restraining", on: "line-called", to: "clearing" },
  { from: "clearing", on: "air-called", to: "charging" },
  { from: "charging", on: "pressure-called", to: "charged" },
  { from: "charged", on: "arm-called", to: "armed" },
  { from: "armed", on: "release-called", to: "zeroed" },
  { from: "making-safe", on: "wait-called", to: "waiting" },
  { from: "waiting", on: "approach-called", to: "approaching" },
  { from: "approaching", on: "close-called", to: "closed" },
];

const SAFING: readonly Edge[] = [
  { from: "making-safe", on: "discharge-called" },
  { from: "making-safe", on: "discharge-agreed" },
  { from: "making-safe", on: "unresolved-declared", to: "unresolved" },
  { from: "waiting", on: "unresolved-declared", to: "unresolved" },
  { from: "unresolved", on: "unresolved-ended", to: "waiting" },
];

/** Going back to an earlier cold phase: whatever cannot stand there falls. After a shot the water is gone. */
const BACK: readonly BackTarget[] = ["preparing", "filling", "sealing", "mounting", "restraining"];
const BACK_FROM: readonly StateId[] = [...COLD, "approaching"];
const mayGoBack = (from: StateId, to: BackTarget): boolean =>
  COLD.indexOf(to) < COLD.indexOf(from === "approaching" ? "sealing" : from);

/** Where a reading may lead to making safe by itself: not where that has begun, is over or stays to be done. */
const mayAlarm = (from: StateId): boolean =>
  isCold(from) || isLive(from) || from === "waiting" || from === "approaching";

const IN_PLACE: readonly Edge[] = [
  ...WITH_STEPS.map((from): Edge => ({ from, on: "step-done" })),
  // With pressure on there is no edge to skip by.
  ...WITH_STEPS.filter((from) => !isHot(from)).map((from): Edge => ({ from, on: "step-skipped" })),
  ...(["clearing", "armed", "making-safe"] as const).map((from): Edge => ({ from, on: "clear-called" })),
  { from: "restraining", on: "restraint-answered" },
  ...STATES.filter((from) => !isFinal(from)).map((from): Edge => ({ from, on: "signed-on" })),
  // Whatever holds a zeroed run takes its zero away, so that none stands there to be cleared.
  ...STATES.filter((from) => !isFinal(from) && from !== "zeroed").map(
    (from): Edge => ({ from, on: "hold-cleared" }),
  ),
  ...[...COLD, "approaching" as const].map((from): Edge => ({ from, on: "scrub-called", to: "scrubbed" })),
];

/** Nothing is asked of whoever ends a cold run, or says that the pressure is unresolved. */
const FREE: readonly PermissionType[] = ["scrub-called", "unresolved-declared"];

const EDGES: readonly Edge[] = [...FORWARD, ...SAFING, ...IN_PLACE];

const EMPTINESS: readonly string[] = ["line-at-zero", "bottle-at-zero", "opening-silent"];

/** A correction that takes away one of these: the evidence on which people walk, or are about to. */
const takesAway = (doc: Doc, context: Context, { event }: Act, keys: readonly string[]): boolean =>
  event.type === "corrected" &&
  establishedBy(doc, context.facts, event.entry).some((key) => keys.includes(key));

export const createChart = (doc: Doc) => {
  const kit = setup({
    types: { context: {} as Context, events: {} as ChartEvent },
    guards: {
      open: ({ context, event }, { from }: { from: StateId }) =>
        missing(doc, { state: from, context }, event.act).length === 0,
      backTo: ({ event }, { to }: { to: StateId }) =>
        event.act.event.type === "back-called" && event.act.event.to === to,
      alarm: ({ event }, { from }: { from: StateId }) => isAlarm(doc, from, event.act.event),
      emptinessLost: ({ context, event }) => takesAway(doc, context, event.act, EMPTINESS),
      wordLost: ({ context, event }) => takesAway(doc, context, event.act, ["emptied-by-word"]),
    },
    actions: {
      // Entering is part of the move, not an entry action: the pure transition starts the chart
      // afresh each time, and an entry action would run there without any act.
      apply: assign(({ context, event }, { from, to }: { from: StateId; to?: StateId }) => {
        const next = apply(doc, { state: from, context }, event.act);
        return to === undefined ? next : enter(doc, to, next, event.act);
      }),
    },
  });

  const stateOf = (from: StateId) => {
    const stay = { actions: { type: "apply", params: { from } } } as const;
    const go = (to: StateId) => ({ target: to, actions: { type: "apply", params: { from, to } } }) as const;
    const move = (to: StateId | undefined) => (to === undefined ? stay : go(to));
    const open = { type: "open", params: { from } } as const;
    const reports = REPORT_TYPES.map((type) => [type, [move(LEADS[type](from))]] as const);
    const permissions = EDGES.filter((edge) => edge.from === from).map(
      (edge) => [edge.on, [{ ...(!FREE.includes(edge.on) && { guard: open }), ...move(edge.to) }]] as const,
    );
    const back = BACK_FROM.includes(from)
      ? BACK.filter((to) => mayGoBack(from, to)).map((to) => ({
          guard: { type: "backTo", params: { to } } as const,
          ...go(to),
        }))
      : [];
    const alarm = { guard: { type: "alarm", params: { from } }, ...go("making-safe") } as const;
    return {
      tags: [...tagsOf(from)],
      on: {
        ...Object.fromEntries(reports),
        ...Object.fromEntries(permissions),
        ...(back.length > 0 && { "back-called": back }),
        ...(mayAlarm(from) && {
          "gauge-read": [alarm, stay],
          ...(WITH_STEPS.includes(from) && { "step-done": [alarm, { guard: open, ...stay }] }),
        }),
        ...((from === "waiting" || from === "approaching") && {
          corrected: [
            { guard: "wordLost", ...go("unresolved") } as const,
            { guard: "emptinessLost", ...go("making-safe") } as const,
            stay,
          ],
        }),
      },
    };
  };

  return kit.createMachine({
    id: "run",
    initial: "preparing",
    context: EMPTY,
    states: Object.fromEntries(STATES.map((state) => [state, stateOf(state)])),
  });
};

export type Chart = ReturnType<typeof createChart>;
