import type { Issue } from "../../result.ts";
import type { Rig } from "../../rig/rig.ts";
import type { FactId } from "../../sequence/facts.ts";
import { PHASES, type PhaseId, type Procedure, type Step } from "../procedure.ts";

/** E: the run cannot start. W: whoever approves accepts it by name. N: worth knowing. */
export type Severity = "E" | "W" | "N";

/** What a rule found: the place, what is wrong there, how to mend it. Its code is the rule's id. */
export type Finding = Omit<Issue, "code">;

export type LintRule = {
  readonly id: string;
  /** Its number in the list of docs/writing-procedures.md. */
  readonly number: string;
  readonly severity: Severity;
  readonly title: string;
  /** Where the rule comes from, and whether that was read, quoted elsewhere, remembered or derived. */
  readonly source: string;
  /** Restraint proof, emptying path, making safe and log have no deviation. */
  readonly deviation: "may be accepted" | "none";
  /** Rules about numbers have nothing to say without the rig. */
  readonly check: (procedure: Procedure, rig?: Rig) => readonly Finding[];
};

export type Placed = {
  readonly step: Step;
  readonly phase: PhaseId;
  readonly index: number;
  /** `phases.filling[0]`: as it stands in the file. */
  readonly where: string;
};

export const stepsIn = (procedure: Procedure, phase: PhaseId): readonly Placed[] =>
  procedure.phases[phase].map((step, index) => ({ step, phase, index, where: `phases.${phase}[${index}]` }));

export const allSteps = (procedure: Procedure): readonly Placed[] =>
  PHASES.flatMap((phase) => stepsIn(procedure, phase));

export const provers = (procedure: Procedure, fact: FactId, phase: PhaseId): readonly Placed[] =>
  stepsIn(procedure, phase).filter(({ step }) => step.proves.includes(fact));

/** One finding for each step that is wrong in the same way. */
export const forSteps = (
  placed: readonly Placed[],
  isWrong: (step: Step, at: Placed) => boolean,
  finding: (at: Placed) => Finding,
): readonly Finding[] => placed.filter((at) => isWrong(at.step, at)).map(finding);

/** Phases in which the bottle may hold air. */
export const HOT_PHASES: readonly PhaseId[] = ["charging", "charged", "armed", "making-safe"];
