import { describe, expect, it } from "vitest";
import { waitLeft_ms } from "../../../core/sequence/rules.ts";
import type { StateId } from "../../../core/sequence/states.ts";
import { smallRig, stepByStep } from "../../model/small-documents.ts";
import { CREW, Walk } from "../../model/walk.ts";

const rigs = {
  vent: smallRig({ restraints: 2, emptying: "vent" }),
  release: smallRig({ restraints: 2, emptying: "release" }),
};
const at = (state: StateId, kind: "vent" | "release" = "release"): Walk =>
  new Walk(rigs[kind], stepByStep(rigs[kind])).to(state);
const approach = { type: "approach-called", person: CREW.installer } as const;
const clear = { type: "clear-called", seenBy: CREW.conductor } as const;
const misfire = (): Walk => at("zeroed").say({ type: "nothing-happened" });

describe("making safe", () => {
  it("is one call away from wherever pressure is possible, and from the cold side too", () => {
    for (const state of [
      "preparing",
      "clearing",
      "charging",
      "charged",
      "armed",
      "zeroed",
      "waiting",
      "approaching",
    ] as const)
      expect(at(state).say({ type: "make-safe-called", why: "" }).state).toBe("making-safe");
  });

  it("starts with the supply shut: nothing counts as empty before", () => {
    const walk = misfire();
    expect(
      walk.try({ type: "step-done", step: "look-opening", seenBy: CREW.releaser, answer: "yes" }),
    ).toEqual(["step-at-hand", "proved-before"]);
    walk.steps();
    expect(walk.stands("opening-silent")).toBe(true);
    walk.say({ type: "air-seen-on" });
    expect(walk.stands("opening-silent")).toBe(false);
  });

  it("approaches after a seen release when the short wait is over", () => {
    const walk = at("waiting").wait(5);
    expect(walk.try(approach)).toEqual(["wait-over"]);
    expect(waitLeft_ms(walk.sequence.doc, walk.snapshot.context, walk.now)).toBe(4000);
    walk.wait(4).say(approach);
  });

  it("after a misfire waits the long wait, from the evidence on", () => {
    const walk = misfire().wait(600).steps().say({ type: "wait-called" }).wait(58);
    expect(walk.try(approach)).toEqual(["wait-over"]);
    walk.wait(1).say(approach);
  });

  it("a release that was corrected away leaves a doubt", () => {
    const walk = at("zeroed").say({ type: "released" });
    walk.say({ type: "corrected", entry: walk.seq - 1, why: "it did not go" }).steps();
    walk.say({ type: "wait-called" }).wait(30);
    expect(walk.try(approach)).toEqual(["wait-over"]);
  });

  it("takes a clock that jumped for no wait at all", () => {
    const walk = at("waiting").wait(30).say({ type: "clock-jumped", wallGap_ms: 30_000, monoGap_ms: 0 });
    expect(walk.try(approach)).toEqual(["wait-over"]);
    walk.time_s -= 3600;
    expect(walk.try(approach)).toEqual(["wait-over"]);
  });

  it("names one person of the crew to go", () => {
    expect(
      at("waiting")
        .wait(60)
        .try({ ...approach, person: "stranger" }),
    ).toEqual(["one-approaches"]);
  });

  it.each([
    ["a released report", { type: "released" }],
    ["a misfire after all", { type: "nothing-happened" }],
    ["air seen on", { type: "air-seen-on" }],
    ["a call", { type: "make-safe-called", why: "hiss" }],
  ] as const)("turns back to making safe from waiting and approaching on %s", (_, event) => {
    for (const state of ["waiting", "approaching"] as const) {
      const walk = at(state).say(event);
      expect(walk.state).toBe("making-safe");
      expect(walk.stands("opening-silent")).toBe(false);
    }
  });

  it("turns back when a gauge shows air in a bottle that was shown empty", () => {
    for (const gauge of ["line", "bottle"])
      for (const state of ["waiting", "approaching"] as const) {
        expect(at(state, "vent").gauge(gauge, "0.04").state).toBe(state);
        expect(at(state, "vent").gauge(gauge, "0.5").state).toBe("making-safe");
      }
    expect(at("waiting", "release").gauge("line", "0.5").state).toBe("waiting");
    expect(at("making-safe", "vent").steps().gauge("line", "0.5").stands("bottle-at-zero")).toBe(false);
    expect(at("mounting", "vent").gauge("bottle", "0.5").state).toBe("making-safe");
    expect(at("clearing", "vent").gauge("line", "3").state).toBe("clearing");
  });

  it("goes by itself from a reading over the bottle's limit, in a step or beside it", () => {
    expect(at("charging").gauge("line", "5.1").state).toBe("making-safe");
    expect(at("charging").gauge("supply", "9").state).toBe("charging");
    const reading = { kind: "single", typed: "5.1", unit: "bar", instrument: "line" } as const;
    const walk = at("charging")
      .step()
      .say({ type: "step-done", step: "gauge", seenBy: CREW.installer, reading });
    expect(walk.state).toBe("making-safe");
    expect(walk.stands("at-pressure")).toBe(false);
  });

  it("a correction of the evidence leads back, of the responsible person's word to unresolved", () => {
    const walk = at("waiting");
    walk.say({
      type: "corrected",
      entry: walk.snapshot.context.facts["opening-silent"]!.seq,
      why: "not seen",
    });
    expect(walk.state).toBe("making-safe");
    const shut = at("approaching");
    shut.say({
      type: "corrected",
      entry: shut.snapshot.context.facts["supply-isolated"]!.seq,
      why: "it leaks",
    });
    expect(shut.state).toBe("making-safe");
    const word = misfire().say({ type: "unresolved-declared", why: "jammed" });
    word.say({ type: "unresolved-ended", person: "p", evidence: "slide off", done: "vented by hand" });
    word.say({ type: "corrected", entry: word.seq - 1, why: "it was another stand" });
    expect(word.state).toBe("unresolved");
  });
});

describe("a discharge", () => {
  it("rests on the proof before the air, a fresh clear call for each pull, and the rig's pull count", () => {
    const walk = misfire();
    expect(walk.try({ type: "discharge-called" })).toEqual(["supply-isolated"]);
    walk.step().say({ type: "discharge-called" }).say({ type: "nothing-happened" });
    expect(walk.try({ type: "discharge-called" })).toEqual(["pulls-left", "clear"]);
  });

  it("is not pulled twice by a double tap", () => {
    const walk = at("armed").say({ type: "make-safe-called", why: "" }).step().say(clear);
    walk.say({ type: "discharge-called" });
    expect(walk.try({ type: "discharge-called" })).toEqual(["clear"]);
    expect(walk.snapshot.context.pulls).toBe(1);
  });

  it("may rest on the proof from before a restart", () => {
    const walk = at("armed").restart();
    expect(walk.state).toBe("unknown");
    walk.say({ type: "make-safe-called", why: "" }).step().say(clear).say({ type: "discharge-called" });
  });

  it("after a restraint was seen open needs the responsible person's word", () => {
    const walk = at("armed").say({ type: "restraint-seen-open", restraint: "A" });
    walk.step().say(clear);
    expect(walk.try({ type: "discharge-called" })).toEqual(["proof-at-air"]);
    const word = { type: "discharge-agreed", person: "p", words: "sectors widened, go" } as const;
    expect(walk.try({ ...word, person: "c" })).toEqual(["responsible-person"]);
    expect(walk.try({ ...word, words: "" })).toEqual(["responsible-person"]);
    walk.say(word).say({ type: "discharge-called" });
  });
});

describe("unresolved", () => {
  const unresolved = (): Walk => misfire().say({ type: "unresolved-declared", why: "the slide is jammed" });

  it("stays so whatever is said, even through a restart", () => {
    const walk = unresolved().restart().say({ type: "make-safe-called", why: "" }).say({ type: "released" });
    expect(walk.state).toBe("unresolved");
  });

  it("ends by the responsible person alone, with evidence and deed in words", () => {
    const walk = unresolved();
    const end = { type: "unresolved-ended", person: "p", evidence: "slide off", done: "vented" } as const;
    expect(walk.try({ ...end, person: CREW.conductor })).toEqual(["responsible-person"]);
    expect(walk.try({ ...end, evidence: "" })).toEqual(["responsible-person"]);
    walk.say(end).wait(60).say(approach);
    expect(walk.state).toBe("approaching");
  });
});

describe("a restart", () => {
  it("with pressure possible, or people on their way, is unknown: making safe is the only way on", () => {
    for (const state of ["charging", "zeroed", "making-safe", "waiting", "approaching"] as const) {
      const walk = at(state).restart();
      expect(walk.state).toBe("unknown");
      for (const type of [
        "air-called",
        "arm-called",
        "release-called",
        "wait-called",
        "close-called",
      ] as const)
        expect(walk.try({ type })).not.toEqual([]);
      for (const type of ["released", "nothing-happened", "air-seen-on", "line-crossed"] as const)
        expect(walk.say({ type }).state).toBe("unknown");
      expect(walk.to("closed").state).toBe("closed");
    }
  });
});
