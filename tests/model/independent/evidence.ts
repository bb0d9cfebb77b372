import type { Documents, Memory, Moment } from "./memory.ts";

/**
 * The model's own table of evidence, written from SAFETY and DESIGN: in which stages a step gives
 * it, what spoils it, and through which moves it survives.
 */

export const COLD = ["preparing", "filling", "sealing", "mounting", "restraining", "clearing"];
export const LIVE = ["charging", "charged", "armed", "zeroed"];
export const SAFING = ["making-safe", "waiting", "unresolved", "unknown"];
export const isHot = (state: string): boolean => LIVE.includes(state) || SAFING.includes(state);
export const isOver = (state: string): boolean => state === "closed" || state === "scrubbed";

type Evidence = {
  readonly stages: readonly string[];
  readonly survives: readonly string[];
  readonly spoiledBy?: readonly string[];
  readonly path?: "vent" | "release";
};

const UP = (...states: readonly string[]): readonly string[] => [...states, ...LIVE];
const ROUND = (...states: readonly string[]): readonly string[] => [
  ...states,
  ...LIVE,
  ...SAFING,
  "approaching",
];
const BROKEN_CALL = ["hold-called", "interrupted", "clock-jumped", "power-low", "kit-tagged-out"];
const NOT_EMPTY = ["released", "nothing-happened", "discharge-called", "pressure-shown"];

export const EVIDENCE: { readonly [id: string]: Evidence } = {
  "phone-ready": { stages: ["preparing"], survives: [] },
  "card-on-site": { stages: ["preparing"], survives: [] },
  "gauges-at-zero": { stages: ["preparing"], survives: [] },
  "line-set-out": { stages: ["preparing"], survives: ROUND(...COLD.slice(1)) },
  "bottle-fit": { stages: ["preparing"], survives: ROUND(...COLD.slice(1)) },
  "comms-checked": { stages: ["preparing"], survives: ROUND(...COLD.slice(1)) },
  "water-measured": { stages: ["filling"], survives: UP("sealing", "mounting", "restraining", "clearing") },
  "release-runs-free": {
    stages: ["sealing"],
    survives: ROUND("mounting", "restraining", "clearing"),
    spoiledBy: ["nothing-happened"],
  },
  "leak-checked": {
    stages: ["sealing"],
    survives: UP("mounting", "restraining", "clearing"),
    spoiledBy: ["leak-seen"],
  },
  "lines-clear": {
    stages: ["mounting"],
    survives: UP("restraining", "clearing"),
    spoiledBy: ["bottle-moved"],
  },
  mounted: { stages: ["mounting"], survives: UP("restraining", "clearing"), spoiledBy: ["bottle-moved"] },
  "first-look": { stages: [], survives: UP("clearing"), spoiledBy: ["restarted", "seen-open", "not-home"] },
  "pull-tested": { stages: ["restraining"], survives: UP("clearing") },
  "second-look": { stages: [], survives: UP("clearing") },
  "supply-in-band": { stages: ["clearing"], survives: [] },
  "regulator-set": { stages: ["clearing"], survives: [] },
  "glasses-on": { stages: ["clearing"], survives: [] },
  clear: {
    stages: ["clearing", "armed"],
    survives: ["zeroed", "making-safe"],
    spoiledBy: [...BROKEN_CALL, "line-crossed", "discharge-called"],
  },
  "at-pressure": { stages: ["charging"], survives: ["charged", "armed", "zeroed"] },
  "supply-isolated": {
    stages: ["charged", "making-safe"],
    survives: ["armed", "zeroed", "waiting", "approaching"],
    spoiledBy: ["air-seen-on"],
  },
  "post-left": { stages: ["charged"], survives: ["armed", "zeroed"], spoiledBy: ["line-crossed"] },
  "restraints-in-view": { stages: ["charged"], survives: ["armed", "zeroed"] },
  "cord-in-hand": { stages: ["armed"], survives: [], spoiledBy: BROKEN_CALL },
  "indoors-ready": { stages: ["armed"], survives: [], spoiledBy: BROKEN_CALL },
  "words-repeated": { stages: ["armed"], survives: [], spoiledBy: BROKEN_CALL },
  "proof-at-air": {
    stages: [],
    survives: [...LIVE, "making-safe", "waiting", "unknown"],
    spoiledBy: ["seen-open-any", "bottle-moved"],
  },
  "discharge-word": { stages: [], survives: [], spoiledBy: ["seen-open-any", "bottle-moved"] },
  "line-at-zero": {
    stages: ["making-safe"],
    survives: ["waiting", "approaching"],
    spoiledBy: NOT_EMPTY,
    path: "vent",
  },
  "bottle-at-zero": {
    stages: ["making-safe"],
    survives: ["waiting", "approaching"],
    spoiledBy: NOT_EMPTY,
    path: "vent",
  },
  "opening-silent": {
    stages: ["making-safe"],
    survives: ["waiting", "approaching"],
    spoiledBy: NOT_EMPTY,
    path: "release",
  },
  "emptied-by-word": { stages: [], survives: ["waiting", "approaching"] },
};

export const PER_RESTRAINT = ["first-look", "second-look"];
const EMPTY_EVIDENCE = ["line-at-zero", "bottle-at-zero", "opening-silent"];

export const keysOf = ({ rig }: Documents, id: string): readonly string[] =>
  PER_RESTRAINT.includes(id) ? rig.restraints.map((restraint) => `${id}:${restraint.id}`) : [id];

/** Given, not withdrawn, and nothing since that spoils it, taken by itself. */
const freshlyGiven = (memory: Memory, key: string): Moment | undefined => {
  const given = memory.given[key];
  if (!given || memory.withdrawn[key] === given.order) return undefined;
  const [id = "", restraint = ""] = key.split(":");
  const { survives, spoiledBy = [] } = EVIDENCE[id] as Evidence;
  for (const state in memory.entered)
    if (memory.entered[state]!.order >= given.order && !survives.includes(state)) return undefined;
  for (const kind of spoiledBy) {
    const named = kind === "seen-open" || kind === "not-home" ? `${kind}:${restraint}` : kind;
    if ((memory.happened[named]?.order ?? -1) > given.order) return undefined;
  }
  return given;
};

/** Evidence that holds now: given last, unspoiled, and later than all that it has to come after. */
export const holding = (docs: Documents, memory: Memory, key: string): Moment | undefined => {
  const given = freshlyGiven(memory, key);
  if (!given) return undefined;
  const [id = ""] = key.split(":");
  const first =
    id === "second-look"
      ? ["pull-tested"]
      : id === "pull-tested"
        ? keysOf(docs, "first-look")
        : EMPTY_EVIDENCE.includes(id)
          ? ["supply-isolated"]
          : [];
  for (const other of first) {
    const before = holding(docs, memory, other);
    if (!before || before.order >= given.order) return undefined;
  }
  return given;
};

export const allHold = (docs: Documents, memory: Memory, id: string): boolean =>
  keysOf(docs, id).every((key) => holding(docs, memory, key) !== undefined);

/** Evidence of emptiness by which people are about to walk, or the responsible person's word for it. */
export const provesEmpty = (id: string): boolean => EMPTY_EVIDENCE.includes(id);
