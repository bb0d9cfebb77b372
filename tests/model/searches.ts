import { createSequence } from "../../core/sequence/advance.ts";
import { GATES } from "../../core/sequence/facts.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import type { Search } from "./explore.ts";
import { FOUR, THREE } from "./moves.ts";
import { type Emptying, inOneGo, smallRig } from "./small-documents.ts";

/** The searches of the proof, by what each adds; all are run to the end. */
export type SearchPlan = {
  readonly name: string;
  readonly restraints: 1 | 2 | 3;
  readonly emptying: Emptying;
  readonly people: 3 | 4;
  readonly corrections: Search["corrections"];
  readonly holdsBehind: number;
  readonly relief: boolean;
  /** Where given, only this is said beside the steps and calls: to go deep in one matter. */
  readonly only?: readonly SequenceEvent["type"][];
};

const plan = (
  restraints: 1 | 2 | 3,
  emptying: Emptying,
  people: 3 | 4,
  more: Partial<SearchPlan> = {},
): SearchPlan => ({
  name: `${restraints} restraints, ${emptying}, ${people} people and the caller`,
  restraints,
  emptying,
  people,
  corrections: "restraints",
  holdsBehind: 0,
  relief: false,
  ...more,
});

const SAID: readonly SequenceEvent["type"][] = [
  "step-done",
  "restraint-answered",
  "clear-called",
  "handed-over",
  "make-safe-called",
  "released",
  "back-called",
  "approach-called",
  "scrub-called",
];

/** As far as the air, where the proof of the restraints is judged for the first time. */
const TO_AIR: readonly SequenceEvent["type"][] = [
  "step-done",
  "restraint-answered",
  "handed-over",
  "fill-called",
  "seal-called",
  "mount-called",
  "restrain-called",
  "line-called",
  "air-called",
];

/** Longest first, so that two workers end together. */
export const SEARCHES: readonly SearchPlan[] = [
  plan(2, "release", 4, { corrections: "any", name: "2 restraints, release, 4 people: any proof withdrawn" }),
  plan(3, "vent", 3),
  plan(2, "vent", 4),
  plan(3, "release", 3),
  plan(2, "release", 4, {
    name: "2 restraints, release, 4 people: others take over",
    relief: true,
    only: [...TO_AIR, "signed-on", "restraint-seen-open", "corrected", "back-called", "scrub-called"],
  }),
  plan(2, "vent", 4, {
    name: "2 restraints, vent, 4 people: holds upon holds",
    holdsBehind: 3,
    only: [
      ...SAID,
      ...GATES,
      "hold-called",
      "hold-cleared",
      "interrupted",
      "line-crossed",
      "leak-seen",
      "restarted",
    ],
  }),
];

const RELIEF: Search["relief"] = [
  { type: "signed-on", person: "e", role: "verifier" },
  { type: "signed-on", person: "f", role: "installer" },
  { type: "signed-on", person: "f", role: "verifier" },
];

const LIMIT = 100_000;

export const searchOf = (wanted: SearchPlan, limit = LIMIT): Search => {
  const rig = smallRig(wanted);
  return {
    sequence: createSequence(rig, inOneGo(rig)),
    crew: wanted.people === 3 ? THREE : FOUR,
    holdCallers: wanted.holdsBehind > 0 ? ["r", "v"] : [wanted.people === 3 ? "v" : "r"],
    relief: wanted.relief ? RELIEF : [],
    corrections: wanted.corrections,
    holdsBehind: wanted.holdsBehind,
    limit,
    ...(wanted.only && { only: wanted.only }),
  };
};
