import { stepsOf } from "../../core/procedure/procedure.ts";
import type { Sequence } from "../../core/sequence/advance.ts";
import { type Context, type Hold, isOpen, type Snapshot } from "../../core/sequence/context.ts";
import { isFinal, isHot, isLive } from "../../core/sequence/states.ts";
import type { Stamp } from "../../core/sequence/vocabulary.ts";
import { registers } from "./independent/invariants.ts";
import type { Memory, Moment } from "./independent/memory.ts";

/**
 * Where the search stands: the real snapshot, and the independent model's memory of the same log.
 * Time stands still between acts; growing older is a move of its own.
 */
export type Node = {
  readonly snapshot: Snapshot;
  readonly memory: Memory;
  readonly session: string;
  readonly seq: number;
};

export const NOON = { at: 1_000_000_000_000, mono: 10_000_000_000 } as const;

/** What can grow old, and the ages in seconds between which nothing changes. */
export type Ageing = "clear" | "pressure" | "zero" | "wait" | "step";

const agesOf = ({ doc }: Sequence, { state }: Snapshot): { readonly [A in Ageing]: readonly number[] } => {
  const { limits } = doc.rig;
  const waits = stepsOf(doc.procedure, state).flatMap(({ form }) =>
    form.kind === "wait" ? [form.seconds] : [],
  );
  return {
    clear:
      state === "armed" || state === "zeroed"
        ? [0, limits.clearBeforeZero_s + 1, limits.clearBeforeAir_s + 1]
        : [0, limits.clearBeforeAir_s + 1],
    pressure: isLive(state) ? [0, limits.timeAtPressure_s + 1] : [0],
    zero: [0, limits.zeroToRelease_s + 1],
    wait: [0, limits.waitAfterRelease_s, limits.waitAfterDoubt_s],
    step: waits.length > 0 ? [0, Math.max(...waits)] : [0],
  };
};

const age_s = (stamp: Stamp): number => (NOON.at - stamp.at) / 1000;

const older = <T extends Stamp | Moment>(stamp: T, age: number): T => ({
  ...stamp,
  at: NOON.at - age * 1000,
  mono: NOON.mono - age * 10_000,
});

const stampOf = ({ context }: Snapshot, what: Ageing): Stamp | undefined => {
  switch (what) {
    case "clear":
      return context.facts["clear"];
    case "pressure":
      return context.pressureSince;
    case "zero":
      return context.zeroAt;
    case "wait":
      return context.waitSince;
    case "step":
      return context.stepSince;
  }
};

const momentIn = (memory: Memory, what: Ageing): Moment | undefined => {
  switch (what) {
    case "clear":
      return memory.given["clear"];
    case "pressure":
      return memory.airSince;
    case "zero":
      return memory.zeroAt;
    case "wait":
      return memory.waitFrom;
    case "step":
      return memory.stepFrom;
  }
};

const withStamp = (context: Context, what: Ageing, age: number): Context => {
  const old = <T extends Stamp>(stamp: T | undefined): T | undefined => stamp && older(stamp, age);
  switch (what) {
    case "clear": {
      const clear = old(context.facts["clear"]);
      return clear ? { ...context, facts: { ...context.facts, clear } } : context;
    }
    case "pressure":
      return { ...context, pressureSince: old(context.pressureSince) };
    case "zero":
      return { ...context, zeroAt: old(context.zeroAt) };
    case "wait":
      return { ...context, waitSince: old(context.waitSince) };
    case "step":
      return { ...context, stepSince: old(context.stepSince) };
  }
};

const withMoment = (memory: Memory, what: Ageing, age: number): Memory => {
  const moment = momentIn(memory, what);
  if (!moment) return memory;
  const old = older(moment, age);
  switch (what) {
    case "clear":
      return { ...memory, given: { ...memory.given, clear: old } };
    case "pressure":
      return { ...memory, airSince: old };
    case "zero":
      return { ...memory, zeroAt: old };
    case "wait":
      return { ...memory, waitFrom: old };
    case "step":
      return { ...memory, stepFrom: old };
  }
};

/** The same place, with one of the clocks that matter there a class older; undefined where it is as old as can be. */
export const grown = (sequence: Sequence, node: Node, what: Ageing): Node | undefined => {
  const stamp = stampOf(node.snapshot, what);
  if (!stamp || stamp.session !== node.session) return undefined;
  const next = agesOf(sequence, node.snapshot)[what].find((age) => age > age_s(stamp));
  if (next === undefined) return undefined;
  return {
    ...node,
    snapshot: { ...node.snapshot, context: withStamp(node.snapshot.context, what, next) },
    memory: withMoment(node.memory, what, next),
  };
};

export const AGEINGS: readonly Ageing[] = ["clear", "pressure", "zero", "wait", "step"];

/** Ages are classes: what crossed a restart has none that counts. */
const ageClass = (stamp: Stamp | undefined, session: string, ages: readonly number[]): string => {
  if (!stamp) return "-";
  return stamp.session === session ? String(ages.findLast((age) => age <= age_s(stamp))) : "x";
};

/** An interruption and a restart hold alike: nothing that judges tells them apart. */
const holdWord = ({ kind, by }: Hold): string =>
  `${kind === "restart" || kind === "interruption" ? "automatic" : kind}/${by}`;

/**
 * The node's canonical form: everything that can ever be judged, nothing else. Left out: the place in
 * the log (only which proofs share an entry is kept), the count of build-ups, how the last release
 * went once it is in doubt, the steps of other stages (entering a stage opens its own), who holds the phone outside *restraining* (any hand-over is accepted
 * anywhere and changes nothing else), and clocks that the state does not read.
 */
export const keyOf = (sequence: Sequence, { snapshot, memory, session }: Node): string => {
  const { state, context } = snapshot;
  if (isFinal(state)) return state;
  const groups = new Map<number, number>();
  const group = (seq: number): number => {
    const known = groups.get(seq);
    if (known !== undefined) return known;
    groups.set(seq, groups.size);
    return groups.size - 1;
  };
  const facts = Object.keys(context.facts)
    .sort()
    .map((key) => {
      const fact = context.facts[key]!;
      return `${key}#${group(fact.seq)}${key.startsWith("first-look") ? fact.person : ""}`;
    });
  // A step done in vain is as open as one that was never done.
  const ownSteps = stepsOf(sequence.doc.procedure, state).filter(
    (step) => step.id in context.steps && !isOpen(sequence.doc, context, step),
  );
  const steps = ownSteps.map(
    ({ id }) => `${id}#${group(context.steps[id]!.seq)}${context.steps[id]!.how[0]}`,
  );
  const holds = [...(context.hold ? [context.hold] : []), ...context.furtherHolds].map(holdWord);
  const people = [
    Object.entries(context.crew).sort().join(),
    Object.entries(context.held)
      .map(([person, roles]) => `${person}=${[...roles].sort()}`)
      .sort()
      .join(),
  ];
  const classes = agesOf(sequence, snapshot);
  const ages = AGEINGS.map((what) =>
    classes[what].length === 1 ? "" : ageClass(stampOf(snapshot, what), session, classes[what]),
  );
  const seen = context.doubt || !isHot(state) ? "" : `seen#${group(context.release?.seq ?? -1)}`;
  const hot = isHot(state);
  const bits = [
    isLive(state) ? context.zeros : "",
    hot ? context.pulls : "",
    hot || state === "approaching" ? context.doubt : "",
    state === "restraining" ? context.holder : "",
    [...context.outside].sort().join(),
    Object.entries(context.readings).sort().join(),
  ];
  return [
    state,
    facts.join(),
    steps.join(),
    holds.join(),
    ...people,
    ages.join(),
    seen,
    bits.join("|"),
    registers(sequence.doc, memory),
  ].join("\n");
};
