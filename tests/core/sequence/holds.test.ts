import { describe, expect, it } from "vitest";
import { smallRig, stepByStep } from "../../model/small-documents.ts";
import { CREW, Walk } from "../../model/walk.ts";

const rig = smallRig({ restraints: 2, emptying: "vent" });
const at = (state: Parameters<Walk["to"]>[0]): Walk => new Walk(rig, stepByStep(rig)).to(state);
const hold = (walk: Walk, by: string): Walk =>
  walk.say({ type: "hold-called", why: "somebody in the trees" }, by);

describe("a hold", () => {
  it("is anyone's to call and takes its caller and the conductor, with a reason, to clear", () => {
    const walk = hold(at("clearing"), CREW.releaser);
    expect(walk.try({ type: "hold-cleared", with: CREW.installer, why: "gone" })).toEqual(["two-clear"]);
    expect(walk.try({ type: "hold-cleared", with: CREW.releaser, why: " " })).toEqual(["two-clear"]);
    expect(walk.try({ type: "hold-cleared", with: CREW.conductor, why: "gone" })).toEqual(["two-clear"]);
    expect(walk.try({ type: "hold-cleared", with: CREW.releaser, why: "gone" }, CREW.installer)).toEqual([
      "two-clear",
    ]);
    walk.say({ type: "hold-cleared", with: CREW.releaser, why: "gone" });
    expect(walk.snapshot.context.hold).toBeUndefined();
    expect(walk.try({ type: "hold-cleared", with: CREW.releaser, why: "gone" })).toEqual(["on-hold"]);
  });

  it("may be cleared by the responsible person in the caller's stead", () => {
    hold(at("clearing"), CREW.releaser).say({ type: "hold-cleared", with: "p", why: "seen to" });
  });

  it("takes any second person of the crew where the conductor called it", () => {
    const walk = hold(at("clearing"), CREW.conductor);
    expect(walk.try({ type: "hold-cleared", with: "stranger", why: "gone" })).toEqual(["two-clear"]);
    walk.say({ type: "hold-cleared", with: CREW.caller, why: "gone" });
  });

  it("called by two people is cleared once for each of them", () => {
    const walk = hold(hold(hold(at("clearing"), CREW.releaser), CREW.installer), CREW.releaser);
    walk.say({ type: "hold-cleared", with: CREW.releaser, why: "gone" });
    expect(walk.snapshot.context.hold?.by).toBe(CREW.installer);
    walk.say({ type: "hold-cleared", with: CREW.installer, why: "gone" });
    expect(walk.snapshot.context.hold).toBeUndefined();
  });

  it("for a finding comes before one that was called, and uncovers it", () => {
    const walk = hold(at("clearing"), CREW.releaser).say({ type: "leak-seen" }, CREW.installer);
    expect(walk.snapshot.context.hold?.kind).toBe("finding");
    walk.clearHold();
    expect(walk.snapshot.context.hold?.kind).toBe("called");
  });

  it("stops each call onward, but neither making safe nor its steps", () => {
    const walk = hold(at("armed").steps(), CREW.conductor);
    expect(walk.try({ type: "release-called" })).toContain("no-hold");
    walk.say({ type: "make-safe-called", why: "enough" }).step();
    expect(walk.try({ type: "wait-called" })).toContain("no-hold");
  });

  it("stops a pull, which is as sudden as a release", () => {
    const walk = hold(at("armed").say({ type: "make-safe-called", why: "" }), CREW.conductor).steps();
    walk.say({ type: "clear-called", seenBy: CREW.conductor });
    expect(walk.try({ type: "discharge-called" })).toEqual(["no-hold"]);
    walk.clearHold();
    walk.say({ type: "discharge-called" });
  });

  it("keeps the step that was at hand, and breaks the last call", () => {
    const walk = hold(at("armed").step().step(), CREW.caller);
    expect(walk.snapshot.context.hold?.step).toBe("indoors");
    expect(walk.stands("clear")).toBe(false);
    expect(walk.stands("cord-in-hand")).toBe(false);
  });

  it.each([
    { type: "hold-called", why: "" },
    { type: "interrupted", cause: "locked", gap_ms: 5000 },
    { type: "clock-jumped", wallGap_ms: 9000, monoGap_ms: 0 },
    { type: "window-passed" },
    { type: "corrected", entry: 0, why: "slip" },
    { type: "power-low", percent: 9 },
    { type: "kit-tagged-out", part: "cord", why: "frayed" },
  ] as const)("and everything like it takes the zero back: $type", (event) => {
    expect(at("zeroed").say(event).state).toBe("armed");
  });

  it("follows from a bad look with pressure on, even where the procedure forgot to say so", () => {
    const procedure = stepByStep(rig);
    const charged = procedure.phases.charged.map(({ hold: _, ...step }) => step);
    const walk = new Walk(rig, { ...procedure, phases: { ...procedure.phases, charged } }).to("charged");
    walk.step().step().say({ type: "step-done", step: "marks", seenBy: CREW.verifier, answer: "no" });
    expect(walk.snapshot.context.hold?.kind).toBe("finding");
  });

  it("follows from two gauges on the same air that disagree, until they agree", () => {
    const walk = at("charging").gauge("bottle", "2.5").step().step();
    expect(walk.snapshot.context.hold?.kind).toBe("finding");
    walk.clearHold();
    expect(walk.try({ type: "pressure-called" })).toEqual(["gauges-agree"]);
    walk.gauge("bottle", "2.95").say({ type: "pressure-called" });
  });

  it("is not called by an interruption where nothing critical was at hand", () => {
    const gone = { type: "interrupted", cause: "idle", gap_ms: 150_000 } as const;
    expect(at("filling").say(gone).snapshot.context.hold).toBeUndefined();
    expect(at("filling").step().say(gone).snapshot.context.hold?.kind).toBe("interruption");
    expect(at("waiting").say(gone).snapshot.context.hold).toBeUndefined();
  });
});
