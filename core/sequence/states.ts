/** The states of a run and what each means for the people near it. */
export const STATES = [
  "preparing",
  "filling",
  "sealing",
  "mounting",
  "restraining",
  "clearing",
  "charging",
  "charged",
  "armed",
  "zeroed",
  "making-safe",
  "waiting",
  "unresolved",
  "unknown",
  "approaching",
  "closed",
  "scrubbed",
] as const;
export type StateId = (typeof STATES)[number];

/** `near`: people may be at the stand. `pressurePossible`: the bottle may hold air. */
export type Tag = "near" | "pressurePossible" | "final";

const COLD: readonly StateId[] = ["preparing", "filling", "sealing", "mounting", "restraining", "clearing"];
const HOT: readonly StateId[] = [
  "charging",
  "charged",
  "armed",
  "zeroed",
  "making-safe",
  "waiting",
  "unresolved",
  "unknown",
];
/** The part of the hot side from which a release can still follow. */
export const LIVE: readonly StateId[] = ["charging", "charged", "armed", "zeroed"];

export const isCold = (state: StateId): boolean => COLD.includes(state);
export const isHot = (state: StateId): boolean => HOT.includes(state);
export const isLive = (state: StateId): boolean => LIVE.includes(state);
export const isFinal = (state: StateId): boolean => state === "closed" || state === "scrubbed";

export const tagsOf = (state: StateId): readonly Tag[] => {
  if (isHot(state)) return ["pressurePossible"];
  if (isFinal(state)) return ["near", "final"];
  return ["near"];
};

/** The seven stages on the rail, and where each state stands on it. */
export const RAIL = ["fill", "seal", "mount", "restrain", "pressurize", "arm", "release"] as const;
export type RailStage = (typeof RAIL)[number];

const RAIL_POSITION: Record<StateId, number> = {
  preparing: -1,
  filling: 0,
  sealing: 1,
  mounting: 2,
  restraining: 3,
  clearing: 4,
  charging: 4,
  charged: 4,
  armed: 5,
  zeroed: 6,
  "making-safe": 7,
  waiting: 7,
  unresolved: 7,
  unknown: 7,
  approaching: 7,
  closed: 7,
  scrubbed: 7,
};

/** -1 before the rail, 0 to 6 on it, 7 after it. */
export const railPosition = (state: StateId): number => RAIL_POSITION[state];
