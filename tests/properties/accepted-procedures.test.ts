import { fc, test } from "@fast-check/vitest";
import { describe, expect } from "vitest";
import { HERON, KINGFISHER } from "../../app/demo/documents.ts";
import { lintProcedure } from "../../core/procedure/lint/lint-procedure.ts";
import { PHASES, type PhaseId, type Step } from "../../core/procedure/procedure.ts";
import { FACTS } from "../../core/sequence/facts.ts";
import { walkNominalRun } from "../app/demo/happy-path.ts";
import { heronDraft, kingfisherDraft, type Mutable, plainStep } from "../core/procedure/lint/break.ts";

/** Edits as a crew makes them: take out, add, move, merge, swap what is proved. */
type Edit = {
  readonly kind: "drop" | "add" | "swap" | "steal" | "strip" | "retype";
  readonly phase: PhaseId;
  readonly at: number;
  readonly to: number;
};

const edit: fc.Arbitrary<Edit> = fc.record({
  kind: fc.constantFrom("drop", "add", "swap", "steal", "strip", "retype"),
  phase: fc.constantFrom(...PHASES),
  at: fc.nat(8),
  to: fc.nat(8),
});

const make = (steps: Mutable<Step>[], { kind, at, to }: Edit): void => {
  const i = at % Math.max(1, steps.length);
  const j = to % Math.max(1, steps.length);
  const [step, other] = [steps[i], steps[j]];
  if (kind === "add") steps.splice(i, 0, plainStep(`added-${steps.length}-${at}-${to}`));
  if (!step || !other) return;
  if (kind === "drop") steps.splice(i, 1);
  if (kind === "swap") [steps[i], steps[j]] = [other, step];
  if (kind === "strip") step.proves = [];
  if (kind === "steal") [step.proves, other.proves] = [[...step.proves, ...other.proves], []];
  if (kind === "retype") step.proves = [FACTS[(at * 9 + to) % FACTS.length]!.id];
};

describe("a procedure in which the linter finds no error", () => {
  const drafts = { heron: heronDraft, kingfisher: kingfisherDraft };
  const reached = { accepted: 0, refused: 0 };

  test.prop([fc.constantFrom("heron", "kingfisher"), fc.array(edit, { minLength: 1, maxLength: 4 })], {
    numRuns: 250,
  })("can be walked from preparing to closed, whatever was edited", (name, edits) => {
    const { procedure, rig } = drafts[name as keyof typeof drafts]();
    for (const each of edits) make(procedure.phases[each.phase], each);
    if (lintProcedure(procedure, rig).errors.length > 0) {
      reached.refused += 1;
      return;
    }
    reached.accepted += 1;
    expect(walkNominalRun({ procedure, rig }).snapshot.state).toBe("closed");
  });

  test("was met often enough for that to mean something", () => {
    console.log("edited procedures:", reached, [HERON.rig.id, KINGFISHER.rig.id].join(", "));
    expect(reached.accepted).toBeGreaterThan(25);
    expect(reached.refused).toBeGreaterThan(25);
  });
});
