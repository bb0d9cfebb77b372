import { lintProcedure } from "../../core/procedure/lint/lint-procedure.ts";
import {
  PHASES,
  type PhaseId,
  type Procedure,
  type Step,
  type StepForm,
} from "../../core/procedure/procedure.ts";
import type { Restraint, Rig } from "../../core/rig/rig.ts";
import type { Documents } from "./independent-model.ts";
import type { Luck } from "./luck.ts";

/**
 * SYNTHETIC. Procedures made from one that is accepted by changing it at random and keeping every
 * change that the linter lets pass: what it accepts is explored, not what we would write.
 */

type Phases = Procedure["phases"];
type Change = (steps: readonly Step[], phase: PhaseId, rig: Rig, luck: Luck) => readonly Step[];

const swap: Change = (steps, _phase, _rig, luck) => {
  const at = luck.below(Math.max(1, steps.length - 1));
  const [a, b] = [steps[at], steps[at + 1]];
  return a && b ? [...steps.slice(0, at), b, a, ...steps.slice(at + 2)] : steps;
};

/** One step for two facts becomes two steps. */
const split: Change = (steps, phase, _rig, luck) => {
  const at = luck.below(steps.length);
  const step = steps[at];
  if (!step || step.proves.length < 2) return steps;
  const [first, ...rest] = step.proves;
  const parts: readonly Step[] = [
    { ...step, id: `${step.id}-${phase}-1`, proves: first ? [first] : [] },
    { ...step, id: `${step.id}-${phase}-2`, proves: rest },
  ];
  return [...steps.slice(0, at), ...parts, ...steps.slice(at + 1)];
};

/** A step that proves nothing gives way. */
const drop: Change = (steps, _phase, _rig, luck) => {
  const at = luck.below(steps.length);
  return steps[at]?.proves.length === 0 ? steps.filter((_, index) => index !== at) : steps;
};

const LOOK: StepForm = {
  kind: "look",
  answers: [
    { text: "In order", good: true },
    { text: "Not in order", good: false },
    { text: "Cannot see", good: false },
  ],
};

const fillerForm = (rig: Rig, luck: Luck): StepForm => {
  const kind = luck.below(6);
  if (kind === 0) return { kind: "act" };
  if (kind === 1) return LOOK;
  if (kind === 2) return { kind: "wait", seconds: 5 + luck.below(20) };
  if (kind === 3)
    return {
      kind: "measure",
      quantity: "temperature",
      unit: "°C",
      instrument: "thermometer",
      band: { min: 0, max: 40 },
    };
  const behind = rig.gauges.filter(({ side }) => side !== "supply");
  const gauge = luck.pick(behind);
  return {
    kind: "measure",
    quantity: "pressure",
    unit: "bar",
    instrument: gauge.id,
    band: { min: 0, max: rig.bottle.limit_Pa },
  };
};

const LINE: readonly PhaseId[] = ["clearing", "charging", "charged", "armed", "making-safe"];

/** One more step, of any form, that proves nothing: some may be skipped, some hold. */
const insert: Change = (steps, phase, rig, luck) => {
  const at = luck.below(steps.length + 1);
  const form = fillerForm(rig, luck);
  const held = form.kind === "look" && luck.chance(0.5);
  const filler: Step = {
    id: `filler-${phase}-${luck.below(100_000)}`,
    text: "Look over the stand once more.",
    form,
    role: luck.pick(["conductor", "installer", "verifier"] as const),
    place: LINE.includes(phase) ? "line" : "stand",
    proves: [],
    skippable: luck.chance(0.6) && !["charging", "charged", "armed", "making-safe"].includes(phase),
    ...(held && {
      hold: { kind: "hold", opens: "conductor", evidence: "all in order", onNo: "Put it right." } as const,
    }),
    hazards: [],
    takes_s: 5,
  };
  return [...steps.slice(0, at), filler, ...steps.slice(at)];
};

const retitle: Change = (steps, _phase, _rig, luck) => {
  const at = luck.below(steps.length);
  const role = luck.pick(["conductor", "installer", "verifier"] as const);
  return steps.map((step, index) => (index === at ? { ...step, role } : step));
};

const CHANGES: readonly Change[] = [swap, split, drop, insert, insert, insert, retitle];

/** The same rig with as many restraints as wanted, told apart by their marks. */
export const withRestraints = (rig: Rig, count: number): Rig => {
  const [pattern] = rig.restraints as readonly [Restraint];
  const restraints = ["A", "B", "C", "D", "E", "F"]
    .slice(0, count)
    .map((mark, x) => ({ ...pattern, id: mark, mark, at: { x, y: 0 } }));
  return { ...rig, restraints };
};

export type Generated = {
  readonly documents: Documents;
  readonly tried: number;
  readonly kept: number;
};

export const generated = (base: Documents, luck: Luck, changes: number): Generated => {
  const { rig } = base;
  let procedure = base.procedure;
  const before = new Set(lintProcedure(procedure, rig).errors.map(({ code }) => code));
  let kept = 0;
  for (let tried = 0; tried < changes; tried += 1) {
    const phase = luck.pick(PHASES);
    const steps = luck.pick(CHANGES)(procedure.phases[phase], phase, rig, luck);
    if (steps === procedure.phases[phase]) continue;
    const phases: Phases = { ...procedure.phases, [phase]: steps };
    const changed: Procedure = { ...procedure, phases, id: `${base.procedure.id}~${tried}` };
    if (lintProcedure(changed, rig).errors.some(({ code }) => !before.has(code))) continue;
    procedure = changed;
    kept += 1;
  }
  return { documents: { rig, procedure }, tried: changes, kept };
};
