import type { PlaceKind } from "../rig/rig.ts";
import type { FactId } from "../sequence/facts.ts";
import type { Role } from "../sequence/roles.ts";
import type { StateId } from "../sequence/states.ts";

/**
 * A procedure fills the fixed phases of the sequence with steps. It may add steps and holds and
 * tighten limits; it can never add an edge, change the order of phases, or what voids what.
 */

/** The phases that carry steps: a step belongs to the state in which it is done. */
export const PHASES = [
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
] as const satisfies readonly StateId[];
export type PhaseId = (typeof PHASES)[number];

export type SignalWord = "DANGER" | "WARNING" | "CAUTION" | "NOTICE";

export type StepWarning = {
  readonly signal: SignalWord;
  readonly hazard: string;
  readonly result: string;
  readonly avoid: string;
  /** S5 to S1 of SAFETY: the signal word must fit it. */
  readonly severity: 1 | 2 | 3 | 4 | 5;
};

export type LookAnswer = { readonly text: string; readonly good: boolean };

/** Which number is asked for; the fold converts what was typed and compares it with the band. */
export type Quantity = "water" | "pressure" | "temperature" | "force" | "duration" | "count";

/** The numbers that a procedure may leave to the rig. */
export const RIG_NUMBERS = ["water", "pressure"] as const;
export type RigNumber = (typeof RIG_NUMBERS)[number];

/**
 * Limits in SI; a missing end is open on that side. `of`: the rig's own number with its tolerance, put
 * in before a run starts (rig-numbers.ts); a run's own procedure has figures only.
 */
export type Band = { readonly min?: number; readonly max?: number; readonly of?: RigNumber };

export type StepForm =
  | { readonly kind: "act" }
  | { readonly kind: "look"; readonly answers: readonly LookAnswer[] }
  | {
      readonly kind: "measure";
      readonly quantity: Quantity;
      readonly unit: string;
      readonly instrument: string;
      readonly band: Band;
    }
  | { readonly kind: "say"; readonly words: string; readonly reply: string }
  | { readonly kind: "wait"; readonly seconds: number }
  | { readonly kind: "each-restraint"; readonly round: 1 | 2 };

export type StepHold = {
  readonly kind: "hold" | "witness";
  readonly opens: Role;
  readonly evidence: string;
  readonly onNo: string;
};

/** A step with a limit in time says all of this, so that a missed one is no surprise. */
export type StepTimeLimit = {
  readonly note: string;
  readonly startsAt: string;
  readonly limit_s: number;
  readonly ifMissed: string;
  readonly tries: number;
};

export type Step = {
  readonly id: string;
  /** One act, verb first, at most 20 words. */
  readonly text: string;
  readonly form: StepForm;
  readonly role: Role;
  readonly place: PlaceKind;
  /** Facts of the closed list that this step establishes; a step that proves one is critical. */
  readonly proves: readonly FactId[];
  readonly skippable: boolean;
  readonly warning?: StepWarning;
  readonly why?: string;
  readonly hold?: StepHold;
  readonly timeLimit?: StepTimeLimit;
  /** Hazards of docs/hazards.md that this step helps to prevent or detect. */
  readonly hazards: readonly string[];
  /** Estimated time, for the list's own length. */
  readonly takes_s: number;
};

export type Deviation = {
  readonly rule: string;
  readonly where: string;
  readonly why: string;
  readonly acceptedBy: string;
  readonly until: string;
};

export type Procedure = {
  readonly format: "fourfast-procedure";
  readonly version: 1;
  readonly id: string;
  readonly title: string;
  readonly revision: number;
  readonly forRig: string;
  readonly synthetic: boolean;
  readonly author: string;
  readonly approvedBy?: string;
  readonly phases: { readonly [P in PhaseId]: readonly Step[] };
  readonly deviations: readonly Deviation[];
};

export const isCritical = (step: Step): boolean => step.proves.length > 0;

export const stepsOf = (procedure: Procedure, phase: StateId): readonly Step[] =>
  (procedure.phases as Partial<Record<StateId, readonly Step[]>>)[phase] ?? [];

export const findStep = (
  procedure: Procedure,
  id: string,
): { readonly step: Step; readonly phase: PhaseId } | undefined => {
  for (const phase of PHASES) {
    const step = procedure.phases[phase].find((candidate) => candidate.id === id);
    if (step) return { step, phase };
  }
  return undefined;
};
