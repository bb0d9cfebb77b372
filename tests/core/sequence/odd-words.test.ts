import { describe, expect, it } from "vitest";
import type { Step } from "../../../core/procedure/procedure.ts";
import type { Reading } from "../../../core/record/reading.ts";
import { createSequence } from "../../../core/sequence/advance.ts";
import { showsPressure } from "../../../core/sequence/gauges.ts";
import { isGood } from "../../../core/sequence/good-answer.ts";
import { RULES } from "../../../core/sequence/rules.ts";
import { smallRig, stepByStep } from "../../model/small-documents.ts";
import { CREW, Walk } from "../../model/walk.ts";

const rig = smallRig({ restraints: 2, emptying: "vent" });
const procedure = stepByStep(rig);
const { doc, initial } = createSequence(rig, procedure);
const UNREADABLE: Reading = { kind: "single", typed: "about three", unit: "bar", instrument: "line" };

describe("a reading that is no number", () => {
  it("is taken down, and stops the way on until the gauge is read again", () => {
    const walk = new Walk(rig, procedure).to("charged");
    walk.steps();
    walk.say({ type: "gauge-read", gauge: "line", reading: UNREADABLE });
    expect(walk.state).toBe("charged");
    expect(walk.try({ type: "arm-called" })).toContain("readings-inside");
    walk.say({ type: "gauge-read", gauge: "line", reading: { ...UNREADABLE, typed: "3.0" } });
    expect(walk.try({ type: "arm-called" })).toEqual([]);
  });

  it("is not the good answer of a step, should one ever be folded", () => {
    const step = procedure.phases.charging.find(({ id }) => id === "gauge") as Step;
    const done = { type: "step-done", step: step.id, seenBy: CREW.installer } as const;
    expect(isGood(doc, step, { ...done, reading: UNREADABLE })).toBe(false);
    expect(isGood(doc, step, done)).toBe(false);
    expect(isGood(doc, step, { ...done, reading: { ...UNREADABLE, typed: "3.0" } })).toBe(true);
  });

  it("on a gauge that the rig does not list, any pressure is air in the bottle", () => {
    const unlisted = { ...rig, gauges: rig.gauges.filter(({ id }) => id !== "line") };
    const read = (typed: string) =>
      showsPressure(
        { ...doc, rig: unlisted },
        { type: "gauge-read", gauge: "line", reading: { ...UNREADABLE, typed } },
      );
    expect([read("0"), read("0.01"), read("about three")]).toEqual([false, true, false]);
  });
});

it("a step that is in no procedure is refused, and nothing is proved by it", () => {
  const walk = new Walk(rig, procedure).to("filling");
  expect(walk.try({ type: "step-done", step: "dance", seenBy: CREW.installer })).toEqual(
    expect.arrayContaining(["step-at-hand", "right-role", "answer-complete"]),
  );
});

it("rules about certain words have no say about others", () => {
  const act = {
    ...new Walk(rig, procedure).now,
    seq: 0,
    by: CREW.conductor,
    event: { type: "line-crossed" },
  } as const;
  for (const name of ["proved-before", "right-role", "responsible-person"])
    expect(RULES.find(({ id }) => id === name)?.holds(doc, initial, act), name).toBe(true);
});
