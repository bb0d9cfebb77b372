import { describe, expect, it } from "vitest";
import type { Reading } from "../../../core/record/reading.ts";
import type { StateId } from "../../../core/sequence/states.ts";
import { smallRig, stepByStep } from "../../model/small-documents.ts";
import { CREW, Walk } from "../../model/walk.ts";

/** What was found can be put right, and what contradicts the evidence is not waited out. */

const rig = smallRig({ restraints: 2, emptying: "release" });
const at = (state: StateId): Walk => new Walk(rig, stepByStep(rig)).to(state);
const kg = (typed: string): Reading => ({ kind: "single", typed, unit: "kg", instrument: "scale" });

describe("a reading outside", () => {
  const tooMuch = (): Walk =>
    at("filling")
      .step()
      .say({ type: "step-done", step: "water", seenBy: CREW.installer, reading: kg("0.7") });

  it("stops the way on where it was made, until it is read again", () => {
    const walk = tooMuch();
    expect(walk.try({ type: "seal-called" })).toContain("readings-inside");
    walk.say({ type: "step-done", step: "water", seenBy: CREW.installer, reading: kg("0.6") });
    expect(walk.try({ type: "seal-called" })).toEqual([]);
  });

  it("is no dead end for a crew that goes back: its step is ahead of them again", () => {
    const walk = tooMuch().say({ type: "back-called", to: "preparing", why: "wrong bottle" }).steps();
    walk.say({ type: "fill-called" });
    expect(walk.try({ type: "seal-called" })).toEqual(
      expect.arrayContaining(["steps-done", "water-measured"]),
    );
    walk.to("clearing");
  });

  it("of a gauge that no step reads again before the air stays with the run", () => {
    const walk = at("mounting").gauge("line", "5.5");
    walk.say({ type: "back-called", to: "sealing", why: "look again" }).steps();
    expect(walk.try({ type: "mount-called" })).toEqual(["readings-inside"]);
    walk.gauge("line", "0");
    expect(walk.try({ type: "mount-called" })).toEqual([]);
  });
});

describe("while the bottle is taken as empty", () => {
  for (const state of ["waiting", "approaching"] as const)
    for (const event of [{ type: "leak-seen" }, { type: "bottle-moved" }] as const)
      it(`${event.type} while ${state} leads back to making safe, and the evidence is void`, () => {
        const walk = at(state).say(event);
        expect(walk.state).toBe("making-safe");
        expect(walk.stands("opening-silent")).toBe(false);
        expect(walk.try({ type: "wait-called" })).toContain("steps-done");
      });

  it("somebody beyond the line holds the approach until two people clear it", () => {
    const walk = at("waiting").say({ type: "line-crossed" }).wait(60);
    const approach = { type: "approach-called", person: CREW.installer } as const;
    expect(walk.try(approach)).toEqual(["no-hold"]);
    walk.say({ type: "hold-cleared", with: CREW.installer, why: "all back behind the line" }).say(approach);
  });

  it("the next shot starts with its fill: there is no way back to a stage that needs water", () => {
    for (const to of ["sealing", "mounting", "restraining"] as const)
      expect(at("approaching").try({ type: "back-called", to, why: "again" })).toEqual(["not-here"]);
    at("approaching").say({ type: "back-called", to: "filling", why: "again" }).to("clearing");
  });
});

it("air goes on once: a charged bottle is used or made safe, never topped up", () => {
  const walk = at("charged").steps();
  expect(walk.try({ type: "air-called" })).not.toEqual([]);
  expect(walk.sequence.chart.states["charged"]?.transitions.has("air-called")).toBe(false);
});

it("a role truly held stays held, even where every step was corrected away", () => {
  const walk = new Walk(rig, stepByStep(rig)).signOn();
  const first = walk.seq;
  walk.step().say({ type: "corrected", entry: first, why: "not done after all" });
  walk.say({ type: "signed-on", person: "e", role: "installer" });
  expect(walk.try({ type: "signed-on", person: CREW.installer, role: "verifier" })).toContain("role-free");
});
