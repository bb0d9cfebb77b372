import type { EmptyingPath, RigLimits } from "../rig/rig.ts";
import type { StateId } from "./states.ts";
import type { EventType } from "./vocabulary.ts";

/**
 * The one table. Each fact says what it means, where it is established, which gates need it, which
 * events void it, in which states it can stand at all, when it goes stale, and which hazards it
 * answers. Guards, refusals, the screen's "what voids what", docs/hazards.md and the review's
 * evidence are all read from here: there is no second place to forget.
 */

/** A gate is named by the permission that passes it. */
export type Gate =
  | "fill-called"
  | "seal-called"
  | "mount-called"
  | "restrain-called"
  | "line-called"
  | "air-called"
  | "pressure-called"
  | "arm-called"
  | "release-called"
  | "discharge-called"
  | "wait-called"
  | "approach-called"
  | "close-called";

export const GATES = [
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
  "approach-called",
  "close-called",
] as const satisfies readonly Gate[];

export type FactId =
  | "phone-ready"
  | "card-on-site"
  | "line-set-out"
  | "bottle-fit"
  | "gauges-at-zero"
  | "comms-checked"
  | "release-runs-free"
  | "water-measured"
  | "leak-checked"
  | "lines-clear"
  | "mounted"
  | "first-look"
  | "pull-tested"
  | "second-look"
  | "supply-in-band"
  | "regulator-set"
  | "glasses-on"
  | "clear"
  | "at-pressure"
  | "supply-isolated"
  | "post-left"
  | "restraints-in-view"
  | "cord-in-hand"
  | "indoors-ready"
  | "words-repeated"
  | "proof-at-air"
  | "discharge-word"
  | "line-at-zero"
  | "bottle-at-zero"
  | "opening-silent"
  | "emptied-by-word";

export type Need = {
  readonly gate: Gate;
  /** The rig's own limit on the fact's age at this gate; without one it does not go stale here. */
  readonly within?: keyof RigLimits;
};

export type Void = {
  readonly on: EventType;
  /** `same`: only for the restraint that the event names. */
  readonly scope?: "same";
  /** `not-home`: only by such an answer. `pressure`: only by a reading that shows air in the bottle. */
  readonly when?: "not-home" | "pressure";
};

export type FactRow = {
  readonly id: FactId;
  readonly words: string;
  /** What the crew is told to do when it is missing. */
  readonly remedy: string;
  /** The phases whose steps may prove it. Entering one of them starts it anew: the fact is void. */
  readonly home: readonly StateId[];
  /** A permission that establishes it by itself, beside or instead of a step. */
  readonly by?: EventType;
  readonly perRestraint?: true;
  readonly onlyFor?: EmptyingPath["kind"];
  /** Must stand first, in every restraint; what voids or renews one of them voids this one too. */
  readonly after?: FactId;
  readonly needs: readonly Need[];
  readonly voids: readonly Void[];
  /** The states into which it is carried: entering any other, its own home too, voids it. */
  readonly lasts: readonly StateId[];
  /** Another fact that may stand in its place. */
  readonly standIn?: FactId;
  /** Hazard numbers of docs/hazards.md. */
  readonly hazards: readonly string[];
};

const COLD: readonly StateId[] = ["preparing", "filling", "sealing", "mounting", "restraining", "clearing"];
const LIVE: readonly StateId[] = ["charging", "charged", "armed", "zeroed"];
const SAFING: readonly StateId[] = ["making-safe", "waiting", "unresolved", "unknown"];
/** On from a phase up to the release, and round again after making safe. */
const onFrom = (phase: StateId): readonly StateId[] => [...COLD.slice(COLD.indexOf(phase) + 1), ...LIVE];
const roundFrom = (phase: StateId): readonly StateId[] => [...onFrom(phase), ...SAFING, "approaching"];

const at = (...gates: readonly Gate[]): readonly Need[] => gates.map((gate) => ({ gate }));
const on = (...events: readonly EventType[]): readonly Void[] => events.map((event) => ({ on: event }));

/** Whatever casts doubt on the air being gone; air seen on again voids the shut supply, and so these. */
const AIR_AGAIN: readonly Void[] = [
  ...on("released", "nothing-happened", "discharge-called"),
  { on: "gauge-read", when: "pressure" },
  { on: "step-done", when: "pressure" },
];
/** Whatever breaks the last call before the release: every hold, and a clock that cannot be trusted. */
const CALL_BROKEN = on("hold-called", "interrupted", "kit-tagged-out", "power-low", "clock-jumped");

export const FACTS: readonly FactRow[] = [
  {
    id: "phone-ready",
    words: "the phone is charged and can save",
    remedy: "Check the phone: charge, storage, clock.",
    home: ["preparing"],
    needs: at("fill-called"),
    voids: [],
    lasts: [],
    hazards: ["19"],
  },
  {
    id: "card-on-site",
    words: "the paper card for making safe is at the line",
    remedy: "Bring the printed card.",
    home: ["preparing"],
    needs: at("fill-called"),
    voids: [],
    lasts: [],
    hazards: ["19"],
  },
  {
    id: "line-set-out",
    words: "the line and the closed sectors are marked out",
    remedy: "Set out the line.",
    home: ["preparing"],
    needs: at("fill-called", "air-called"),
    voids: [],
    lasts: roundFrom("preparing"),
    hazards: ["12", "13", "26"],
  },
  {
    id: "bottle-fit",
    words: "the bottle is the right one and inside its life",
    remedy: "Inspect the bottle.",
    home: ["preparing"],
    needs: at("fill-called", "air-called"),
    voids: [],
    lasts: roundFrom("preparing"),
    hazards: ["9"],
  },
  {
    id: "gauges-at-zero",
    words: "the gauges read zero at the start",
    remedy: "Read the gauges with the supply shut.",
    home: ["preparing"],
    needs: at("fill-called"),
    voids: [],
    lasts: [],
    hazards: ["6", "7"],
  },
  {
    id: "comms-checked",
    words: "line and indoors hear each other",
    remedy: "Call indoors and have it repeated.",
    home: ["preparing"],
    needs: at("fill-called", "arm-called"),
    voids: [],
    lasts: roundFrom("preparing"),
    hazards: ["18"],
  },
  {
    id: "water-measured",
    words: "the water is measured and written down",
    remedy: "Go back to the fill and measure the water.",
    home: ["filling"],
    needs: at("seal-called", "air-called"),
    voids: [],
    lasts: onFrom("filling"),
    hazards: ["3"],
  },
  {
    id: "release-runs-free",
    words: "the release ran free when dry",
    remedy: "Go back to the seal and run the release dry.",
    home: ["sealing"],
    needs: at("mount-called", "air-called"),
    voids: on("nothing-happened"),
    lasts: roundFrom("sealing"),
    hazards: ["14", "16"],
  },
  {
    id: "leak-checked",
    words: "upside down it held every drop",
    remedy: "Go back to the seal: turn it over above a bucket and watch.",
    home: ["sealing"],
    needs: at("mount-called", "air-called"),
    voids: on("leak-seen"),
    lasts: onFrom("sealing"),
    hazards: ["3", "27"],
  },
  {
    id: "lines-clear",
    words: "cord and air line lie along their guides, not pinched",
    remedy: "Look along the cord and the air line.",
    home: ["mounting"],
    needs: at("restrain-called", "air-called"),
    voids: on("bottle-moved"),
    lasts: onFrom("mounting"),
    hazards: ["10", "14", "15"],
  },
  {
    id: "mounted",
    words: "the bottle is seated in the stand",
    remedy: "Seat the collar, hooked edge first.",
    home: ["mounting"],
    needs: at("restrain-called", "air-called"),
    voids: on("bottle-moved"),
    lasts: onFrom("mounting"),
    hazards: ["1", "23"],
  },
  {
    id: "first-look",
    words: "was touched and seen fully home by the installer",
    remedy: "Installer: touch it and say what you see.",
    home: ["restraining"],
    perRestraint: true,
    needs: at("line-called", "air-called", "release-called"),
    voids: [
      { on: "restraint-seen-open", scope: "same" },
      { on: "restraint-answered", scope: "same", when: "not-home" },
      { on: "restarted" },
    ],
    lasts: onFrom("restraining"),
    hazards: ["1", "2", "20", "21", "23"],
  },
  {
    id: "pull-tested",
    words: "the pull test was made after every first look",
    remedy: "Pull with the stated force, then look again.",
    home: ["restraining"],
    after: "first-look",
    needs: at("line-called", "air-called", "release-called"),
    voids: [],
    lasts: onFrom("restraining"),
    hazards: ["1", "2", "26"],
  },
  {
    id: "second-look",
    words: "was touched and seen fully home by the verifier",
    remedy: "Verifier: touch it and say what you see.",
    home: ["restraining"],
    perRestraint: true,
    after: "pull-tested",
    needs: at("line-called", "air-called", "release-called"),
    voids: [],
    lasts: onFrom("restraining"),
    hazards: ["1", "2", "21", "22", "23"],
  },
  {
    id: "supply-in-band",
    words: "the supply is inside its band and above the set pressure",
    remedy: "Read the supply, or call staff.",
    home: ["clearing"],
    needs: at("air-called"),
    voids: [],
    lasts: [],
    hazards: ["8"],
  },
  {
    id: "regulator-set",
    words: "the regulator is set from below with its outlet shut",
    remedy: "Set the regulator.",
    home: ["clearing"],
    needs: at("air-called"),
    voids: [],
    lasts: [],
    hazards: ["6", "8"],
  },
  {
    id: "glasses-on",
    words: "safety glasses are on everyone",
    remedy: "Look at each face: glasses on.",
    home: ["clearing"],
    needs: at("air-called"),
    voids: [],
    lasts: [],
    hazards: ["8", "13"],
  },
  {
    id: "clear",
    words: "everyone is behind the line, and it was called clear",
    remedy: "Sweep, ask, and call clear.",
    home: ["clearing", "armed"],
    by: "clear-called",
    needs: [
      { gate: "air-called", within: "clearBeforeAir_s" },
      { gate: "release-called", within: "clearBeforeZero_s" },
      { gate: "discharge-called", within: "clearBeforeAir_s" },
    ],
    voids: [...CALL_BROKEN, ...on("line-crossed", "discharge-called")],
    lasts: ["zeroed", "making-safe"],
    hazards: ["13", "15"],
  },
  {
    id: "at-pressure",
    words: "the gauge stands still inside the set band",
    remedy: "Wait for the bubbling to stop and read the gauge.",
    home: ["charging"],
    needs: at("pressure-called", "arm-called", "release-called"),
    voids: [],
    lasts: ["charged", "armed", "zeroed"],
    hazards: ["7", "8", "10"],
  },
  {
    id: "supply-isolated",
    words: "the supply is shut off from the bottle",
    remedy: "Shut the valves: a handle across the line is shut.",
    home: ["charged", "making-safe"],
    needs: at("arm-called", "release-called", "discharge-called", "wait-called"),
    voids: on("air-seen-on"),
    lasts: ["armed", "zeroed", "waiting", "approaching"],
    hazards: ["4", "6", "11"],
  },
  {
    id: "post-left",
    words: "the charging post is empty and everyone is at the line",
    remedy: "All back to the line.",
    home: ["charged"],
    needs: at("arm-called", "release-called"),
    voids: on("line-crossed"),
    lasts: ["armed", "zeroed"],
    hazards: ["13", "15"],
  },
  {
    id: "restraints-in-view",
    words: "every restraint mark is seen home from the line",
    remedy: "Look at each mark from the line.",
    home: ["charged"],
    needs: at("arm-called", "release-called"),
    voids: [],
    lasts: ["armed", "zeroed"],
    hazards: ["1", "2"],
  },
  {
    id: "cord-in-hand",
    words: "the releaser stands in place with a slack cord",
    remedy: "Releaser in place, cord slack.",
    home: ["armed"],
    needs: at("release-called"),
    voids: CALL_BROKEN,
    lasts: [],
    hazards: ["14", "15"],
  },
  {
    id: "indoors-ready",
    words: "indoors has typed the run code and is ready",
    remedy: "Ask indoors: code typed, channels alive, ready.",
    home: ["armed"],
    needs: at("release-called"),
    voids: CALL_BROKEN,
    lasts: [],
    hazards: ["17", "18"],
  },
  {
    id: "words-repeated",
    words: "the words were said and repeated back",
    remedy: "Say the words and have them repeated.",
    home: ["armed"],
    needs: at("release-called"),
    voids: CALL_BROKEN,
    lasts: [],
    hazards: ["18"],
  },
  {
    id: "proof-at-air",
    words: "the restraints were proved before the air went on and none was seen open since",
    remedy: "The responsible person must agree to the pull.",
    home: [],
    by: "air-called",
    standIn: "discharge-word",
    needs: at("discharge-called"),
    voids: on("restraint-seen-open", "bottle-moved"),
    lasts: [...LIVE, "making-safe", "waiting", "unknown"],
    hazards: ["1", "14"],
  },
  {
    id: "discharge-word",
    words: "the responsible person agreed to the pull, with the sectors widened",
    remedy: "Ask the responsible person.",
    home: [],
    by: "discharge-agreed",
    needs: [],
    voids: on("restraint-seen-open", "bottle-moved"),
    lasts: [],
    hazards: ["1", "14"],
  },
  {
    id: "line-at-zero",
    words: "the line gauge reads zero",
    remedy: "Bleed the line and read its gauge.",
    home: ["making-safe"],
    onlyFor: "vent",
    standIn: "emptied-by-word",
    after: "supply-isolated",
    needs: at("wait-called", "approach-called"),
    voids: AIR_AGAIN,
    lasts: ["waiting", "approaching"],
    hazards: ["5", "6"],
  },
  {
    id: "bottle-at-zero",
    words: "the gauge on the bottle side of the one-way valve reads zero",
    remedy: "Vent the bottle and read its own gauge.",
    home: ["making-safe"],
    onlyFor: "vent",
    standIn: "emptied-by-word",
    after: "supply-isolated",
    needs: at("wait-called", "approach-called"),
    voids: AIR_AGAIN,
    lasts: ["waiting", "approaching"],
    hazards: ["5", "16"],
  },
  {
    id: "opening-silent",
    words: "the opening is seen free and silent",
    remedy: "Look from the line: free, and no hiss.",
    home: ["making-safe"],
    onlyFor: "release",
    standIn: "emptied-by-word",
    after: "supply-isolated",
    needs: at("wait-called", "approach-called"),
    voids: AIR_AGAIN,
    lasts: ["waiting", "approaching"],
    hazards: ["5", "14", "16", "27"],
  },
  {
    id: "emptied-by-word",
    words: "the responsible person gave their word on the evidence",
    remedy: "Only the responsible person can end this.",
    home: [],
    by: "unresolved-ended",
    needs: [],
    voids: [],
    lasts: ["waiting", "approaching"],
    hazards: ["5", "14"],
  },
];

export const factRow = (facts: readonly FactRow[], id: FactId): FactRow | undefined =>
  facts.find((row) => row.id === id);

/** A fact's key in the context: one for each restraint where the fact is held per restraint. */
export const factKey = (id: FactId, restraint?: string): string =>
  restraint === undefined ? id : `${id}:${restraint}`;
