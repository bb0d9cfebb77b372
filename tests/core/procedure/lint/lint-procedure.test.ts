import { describe, expect, it } from "vitest";
import { canStart } from "../../../../core/procedure/lint/can-start.ts";
import { lintProcedure } from "../../../../core/procedure/lint/lint-procedure.ts";
import type { Deviation } from "../../../../core/procedure/procedure.ts";
import type { Issue } from "../../../../core/result.ts";
import { type Draft, heronDraft } from "./break.ts";

const codes = (issues: readonly Issue[]) => issues.map(({ code, where }) => `${code} at ${where}`);

/** A draft with one finding of severity E that may be accepted by name. */
const deviating = (change: Partial<Deviation> = {}): Draft => {
  const draft = heronDraft();
  draft.step("seat-stopper").warning!.signal = "WARNING";
  const deviation = {
    rule: "warning-fits",
    where: "phases.sealing[4]",
    why: "the club's own card says so",
    acceptedBy: "R1",
    until: "2026-12-31",
  };
  draft.procedure.deviations.push({ ...deviation, ...change });
  return draft;
};
const lint = ({ procedure, rig }: Draft, today?: string) => lintProcedure(procedure, rig, today);

describe("lintProcedure", () => {
  it("sorts what it finds by what it stops", () => {
    const draft = heronDraft();
    draft.step("isolate").skippable = true;
    draft.step("soap").text = "Soap it properly.";
    delete draft.procedure.approvedBy;
    const found = lint(draft);
    expect(codes(found.errors)).toEqual(["critical-never-skippable at phases.charged[0].skippable"]);
    expect(codes(found.warnings)).toEqual(["one-act at phases.sealing[3].text"]);
    expect(codes(found.notes)).toEqual(["not-approved at approvedBy"]);
  });

  it("says nothing of numbers that only a rig can judge when there is none", () => {
    const { procedure, step } = heronDraft();
    procedure.forRig = "another";
    const { form } = step("pressure-read");
    if (form.kind === "measure") form.band = { min: 1, max: 2 };
    expect(lintProcedure(procedure)).toEqual({ errors: [], warnings: [], notes: [] });
  });

  it("misses an emptying path even without a rig", () => {
    const { procedure, step } = heronDraft();
    step("opening-look").proves = [];
    expect(codes(lintProcedure(procedure).errors)).toEqual(["emptiness-shown at phases.making-safe"]);
  });

  it.each([
    ["condition first", "soap", "If the side is dry, soap the stopper."],
    ["a look at the end of the act", "soap", "Soap the stopper and look at the whole side."],
    ["a unit behind the number", "bubbling", "Let it rise to 3.0 bar and wait."],
    ["things joined by “and”", "soap", "Soap stopper and neck."],
  ])("has nothing against %s", (_what, id, text) => {
    const draft = heronDraft();
    draft.step(id).text = text;
    expect(lint(draft)).toEqual({ errors: [], warnings: [], notes: [] });
  });
});

describe("a named deviation", () => {
  it("turns an error into a note that names who, why and until when", () => {
    const { errors, notes } = lint(deviating(), "2026-07-01");
    expect(errors).toEqual([]);
    expect(notes).toMatchObject([
      { code: "deviation-accepted", detail: expect.stringMatching(/R1 until 2026-12-31.*card/) },
    ]);
  });

  it.each<[string, Partial<Deviation>, string | undefined]>([
    ["after its last day", {}, "2027-01-01"],
    ["where nobody can say what day it is", {}, undefined],
    ["for another place", { where: "phases.filling[0]" }, "2026-07-01"],
    ["for another rule", { rule: "holds-complete" }, "2026-07-01"],
  ])("counts for nothing %s", (_when, change, today) => {
    expect(codes(lint(deviating(change), today).errors)).toEqual([
      "warning-fits at phases.sealing[4].warning.signal",
    ]);
  });

  it("still counts on its last day", () => {
    expect(lint(deviating(), "2026-12-31").errors).toEqual([]);
  });

  it.each<[string, Partial<Deviation>]>([
    ["a rule that does not exist", { rule: "be-careful" }],
    ["the author's own acceptance", { acceptedBy: "A1" }],
    ["the restraint proof", { rule: "restraint-rounds" }],
    ["the looks one by one", { rule: "restraints-one-by-one" }],
    ["the emptying path", { rule: "emptiness-shown" }],
    ["people at the stand while making safe", { rule: "away-while-charged" }],
    ["what the log needs", { rule: "ids-unique" }],
  ])("is an error itself for %s", (_what, change) => {
    expect(codes(lint(deviating(change), "2026-07-01").errors)).toContain("deviation-void at deviations[0]");
  });

  it("is named when it covers nothing any more", () => {
    const draft = deviating();
    draft.step("seat-stopper").warning!.signal = "CAUTION";
    expect(codes(lint(draft, "2026-07-01").notes)).toEqual(["deviation-unused at deviations[0]"]);
  });
});

describe("canStart", () => {
  const issuesOf = ({ procedure, rig }: Draft) => {
    const result = canStart(procedure, rig, "2026-07-01");
    return result.ok ? [] : result.issues.map(({ code }) => code);
  };
  const changed = (change: (draft: Draft) => void): Draft => {
    const draft = heronDraft();
    change(draft);
    return draft;
  };

  it("opens a run by a procedure without errors that another person approved", () => {
    expect(issuesOf(heronDraft())).toEqual([]);
    expect(issuesOf(deviating())).toEqual([]);
  });

  it("lets warnings pass: who approved it accepted them", () => {
    expect(issuesOf(changed(({ step }) => (step("soap").text = "Soap it properly.")))).toEqual([]);
  });

  it.each<[string, (draft: Draft) => void, string]>([
    ["an error", ({ step }) => (step("isolate").skippable = true), "critical-never-skippable"],
    ["no approval", ({ procedure }) => delete procedure.approvedBy, "not-approved"],
    ["the author's approval", ({ procedure }) => (procedure.approvedBy = "A1"), "signed"],
    [
      "a rig out of service",
      ({ rig }) => (rig.service = { in: false, tag: "bearing worn" }),
      "rig-out-of-service",
    ],
    ["a worn part", ({ rig }) => (rig.parts[0]!.count = rig.parts[0]!.limit), "part-worn"],
    ["a bottle past its life", ({ rig }) => (rig.bottle.shotsSoFar = 12), "inside-limits"],
    ["another rig's procedure", ({ procedure }) => (procedure.forRig = "kingfisher"), "for-this-rig"],
  ])("refuses %s", (_what, change, code) => {
    expect(issuesOf(changed(change))).toEqual([code]);
  });
});
