import type { Act } from "../../../core/sequence/vocabulary.ts";
import { holding, isHot, LIVE, SAFING } from "./evidence.ts";
import { atLeast_s, atMost_s, type Documents, type Memory, type Moment } from "./memory.ts";
import { bad, wait_s } from "./permissions.ts";
import { stepCalled } from "./reading.ts";

/**
 * The invariants of DESIGN that belong to the chart, each judged at every accepted act from what was
 * said before, independently of whether the model would have refused. Numbered as there.
 */

/** `before` and `after` are the model's memories; `state` is where the sequence says that it is now. */
export type Step = {
  readonly before: Memory;
  readonly act: Act;
  readonly accepted: boolean;
  readonly state: string;
  /** Whether the sequence says that a hold stands after the act. */
  readonly held: boolean;
};

type Invariant = { readonly number: number; readonly holds: (docs: Documents, step: Step) => boolean };

const later = (a: Moment | undefined, b: Moment | undefined): boolean =>
  a !== undefined && (b === undefined || a.order > b.order);

/** Invariant 1 and 2 in the words of SAFETY I1: by when each thing was last said, and by whom. */
const provedTwice = (docs: Documents, memory: Memory): boolean => {
  const { happened, entered } = memory;
  const pull = holding(docs, memory, "pull-tested");
  return docs.rig.restraints.every(({ id }) => {
    const first = holding(docs, memory, `first-look:${id}`);
    const second = holding(docs, memory, `second-look:${id}`);
    return (
      first !== undefined &&
      second !== undefined &&
      first.person !== second.person &&
      later(first, entered["mounting"]) &&
      later(first, happened[`seen-open:${id}`]) &&
      later(first, happened[`not-home:${id}`]) &&
      later(second, happened[`seen-open:${id}`]) &&
      later(pull, first) &&
      later(pull, happened["seen-open-any"]) &&
      later(second, pull)
    );
  });
};

const onward = (type: string): boolean =>
  [
    ...["fill-called", "seal-called", "mount-called", "restrain-called", "line-called", "air-called"],
    ...["pressure-called", "arm-called", "release-called", "wait-called", "approach-called", "close-called"],
    ...["step-skipped", "discharge-called"],
  ].includes(type);

const REPORTS = [
  ...["hold-called", "make-safe-called", "released", "nothing-happened", "window-passed", "air-seen-on"],
  ...["restraint-seen-open", "line-crossed", "bottle-moved", "leak-seen", "water-in-line", "gauge-read"],
  ...["staff-called", "kit-tagged-out", "noted", "corrected", "handed-over", "restarted", "interrupted"],
  ...["clock-jumped", "power-low", "refused"],
];
const isReport = (type: string): boolean => REPORTS.includes(type);

/** Applies only where the act was accepted and is of this type. */
const at =
  (type: string, holds: (docs: Documents, memory: Memory, act: Act) => boolean) =>
  (docs: Documents, { before, act, accepted }: Step): boolean =>
    !accepted || act.event.type !== type || holds(docs, before, act);

const moved =
  (holds: (from: string, to: string, type: string) => boolean) =>
  (_docs: Documents, { before, act, accepted, state }: Step): boolean =>
    !accepted || before.state === state || holds(before.state, state, act.event.type);

const NOT_EMPTY = ["released", "nothing-happened", "discharge-called", "air-seen-on", "pressure-shown"];

const emptied = (docs: Documents, memory: Memory): boolean => {
  if (holding(docs, memory, "emptied-by-word")) return true;
  const evidence =
    docs.rig.emptying.kind === "vent" ? ["line-at-zero", "bottle-at-zero"] : ["opening-silent"];
  return evidence.every(
    (key) =>
      holding(docs, memory, key) !== undefined &&
      NOT_EMPTY.every((kind) => later(memory.given[key], memory.happened[kind])),
  );
};

export const INVARIANTS: readonly Invariant[] = [
  { number: 1, holds: at("release-called", provedTwice) },
  { number: 2, holds: at("air-called", provedTwice) },
  {
    number: 3,
    holds: at("release-called", ({ rig }, memory, act) => {
      const clear = memory.given["clear"];
      return (
        later(clear, memory.happened["line-crossed"]) &&
        atMost_s(clear as Moment, act) <= rig.limits.clearBeforeZero_s
      );
    }),
  },
  // One tap is the zero and the release: there is none left in *zeroed*, and each needs air of its own.
  {
    number: 4,
    holds: at(
      "release-called",
      (_docs, memory) =>
        memory.state === "armed" &&
        later(memory.happened["air-called"], memory.happened["released"]) &&
        later(memory.happened["air-called"], memory.happened["nothing-happened"]),
    ),
  },
  // A zero whose window has passed serves no second release: all of the call is made again after it.
  {
    number: 5,
    holds: at("release-called", (docs, memory) =>
      ["clear", "cord-in-hand", "indoors-ready", "words-repeated"].every(
        (key) =>
          holding(docs, memory, key) !== undefined &&
          later(memory.given[key], memory.happened["release-called"]),
      ),
    ),
  },
  {
    number: 6,
    holds: at("release-called", (_docs, { given, happened, withdrawn }) => {
      const shut = given["supply-isolated"];
      return (
        later(shut, happened["air-called"]) &&
        later(shut, happened["air-seen-on"]) &&
        withdrawn["supply-isolated"] !== shut?.order
      );
    }),
  },
  { number: 7, holds: at("approach-called", (docs, memory) => emptied(docs, memory)) },
  {
    number: 8,
    holds: at(
      "approach-called",
      (docs, memory, act) =>
        memory.waitFrom !== undefined && atLeast_s(memory.waitFrom, act) >= wait_s(docs, memory),
    ),
  },
  {
    number: 9,
    holds: moved((from, to) => {
      if (to === "waiting") return from === "making-safe" || from === "unresolved";
      return !isHot(from) || isHot(to) || (from === "waiting" && to === "approaching");
    }),
  },
  {
    number: 10,
    holds: (_docs, { before, act, accepted, state }) => {
      if (!accepted) return true;
      if (act.event.type === "restarted" && isHot(before.state) && before.state !== "unresolved")
        return state === "unknown";
      return before.state !== "unknown" || ["unknown", "making-safe"].includes(state);
    },
  },
  {
    number: 11,
    holds: (_docs, { before, act, accepted }) =>
      isReport(act.event.type) ? accepted : !accepted || before.holds.length === 0 || !onward(act.event.type),
  },
  {
    number: 12,
    holds: (_docs, { before, act, accepted, state }) =>
      act.event.type !== "make-safe-called" ||
      (accepted &&
        (!isHot(before.state) || state === (before.state === "unresolved" ? "unresolved" : "making-safe"))),
  },
  // 13 is a property of the whole graph: judged by the search.
  {
    number: 14,
    holds: at("step-skipped", (docs, memory, { event }) => {
      const step = event.type === "step-skipped" ? stepCalled(docs, event.step) : undefined;
      return step?.proves.length === 0 && step.skippable && !isHot(memory.state);
    }),
  },
  {
    number: 15,
    holds: at("release-called", ({ rig }, memory, act) => {
      const since = memory.airSince;
      return (
        memory.zeros < rig.limits.zeros &&
        since !== undefined &&
        atMost_s(since, act) <= rig.limits.timeAtPressure_s
      );
    }),
  },
  {
    number: 16,
    holds: (_docs, { before, act, accepted }) =>
      !accepted ||
      before.amiss.length === 0 ||
      !onward(act.event.type) ||
      SAFING.includes(before.state) ||
      before.state === "approaching" ||
      act.event.type === "step-skipped",
  },
  {
    number: 17,
    holds: (_docs, { before, act, accepted, held }) => {
      const { event } = act;
      if (
        event.type === "restraint-answered" &&
        event.round === 2 &&
        bad(act) &&
        before.state === "restraining"
      )
        return accepted === false || held;
      if (before.holds.length === 0 || held || !accepted) return true;
      return event.type === "hold-cleared" && act.by !== event.with;
    },
  },
  {
    number: 18,
    holds: (docs, { before, act, accepted, state }) => {
      const { event } = act;
      // A reading that alarms is a report, whoever makes it.
      if (!accepted || (event.type === "step-done" && state !== before.state)) return true;
      if (event.type === "signed-on") return !clashes(before.hats[event.person] ?? [], event.role);
      if (event.type === "restraint-answered" && !bad(act))
        return !clashes(before.hats[event.seenBy] ?? [], event.round === 1 ? "installer" : "verifier");
      if (event.type !== "step-done") return true;
      const role = stepCalled(docs, event.step)?.role;
      return role === undefined || !clashes(before.hats[event.seenBy] ?? [], role);
    },
  },
];

const APART = [
  ["installer", "verifier"],
  ["conductor", "verifier"],
  ["conductor", "releaser"],
  ...["conductor", "installer", "verifier", "releaser"].map((role) => ["caller", role]),
];
const clashes = (worn: readonly string[], role: string): boolean =>
  worn.some((hat) => APART.some((pair) => hat !== role && pair.includes(hat) && pair.includes(role)));

/**
 * Every comparison of moments on which an invariant above can still turn in this state, as one word.
 * Two runs that agree in it, and in what the sequence knows, are judged alike for ever after: what
 * does not hold has to be given anew before it counts, and is compared afresh then.
 */
export const registers = (docs: Documents, memory: Memory): string => {
  const { given, happened, entered, state } = memory;
  const bits: boolean[] = [];
  /** Holds, and later than each of these. */
  const good = (key: string, ...than: readonly (Moment | undefined)[]): void => {
    const moment = holding(docs, memory, key);
    bits.push(moment !== undefined && than.every((other) => later(moment, other)));
  };
  const live = LIVE.includes(state);
  if (live || state === "restraining" || state === "clearing") {
    good("pull-tested", happened["seen-open-any"]);
    for (const { id } of docs.rig.restraints) {
      const opened = happened[`seen-open:${id}`];
      good(`first-look:${id}`, entered["mounting"], opened, happened[`not-home:${id}`]);
      good(`second-look:${id}`, opened, given["pull-tested"]);
    }
  }
  if (live) {
    const air = happened["air-called"];
    bits.push(later(air, happened["released"]), later(air, happened["nothing-happened"]));
    good("supply-isolated", air, happened["air-seen-on"]);
  }
  if (state === "armed") {
    good("clear", happened["line-crossed"]);
    for (const key of ["clear", "cord-in-hand", "indoors-ready", "words-repeated"])
      good(key, happened["release-called"]);
  }
  if (state === "making-safe" || state === "waiting")
    for (const key of ["line-at-zero", "bottle-at-zero", "opening-silent"])
      good(key, ...NOT_EMPTY.map((kind) => happened[kind]));
  return bits.map((bit) => (bit ? "1" : "0")).join("");
};
