import { describe, expect, it } from "vitest";
import { smallRig, stepByStep } from "../../model/small-documents.ts";
import { CREW, Walk } from "../../model/walk.ts";

const rig = smallRig({ restraints: 3, emptying: "release" });
const restraining = (): Walk => new Walk(rig, stepByStep(rig)).to("restraining").step();

describe("the restraint proof", () => {
  it("refuses the line until every restraint is confirmed twice and pulled between", () => {
    const walk = restraining();
    expect(walk.try({ type: "line-called" })).toEqual(
      expect.arrayContaining([
        "first-look:A",
        "first-look:B",
        "first-look:C",
        "pull-tested",
        "second-look:A",
      ]),
    );
    walk.firstLooks();
    expect(walk.try({ type: "line-called" })).toEqual([
      "steps-done",
      "pull-tested",
      "second-look:A",
      "second-look:B",
      "second-look:C",
    ]);
    walk.steps().say({ type: "line-called" });
  });

  it("takes no second look before the pull test", () => {
    const walk = restraining().firstLooks().say({ type: "handed-over", to: CREW.verifier });
    const look = {
      type: "restraint-answered",
      restraint: "A",
      round: 2,
      answer: "home",
      seenBy: CREW.verifier,
    } as const;
    expect(walk.try(look, CREW.verifier)).toEqual(["proved-before"]);
  });

  it("takes no pull test before every first look", () => {
    const walk = restraining().look(1, "A").look(1, "B");
    expect(walk.try({ type: "step-done", step: "pull", seenBy: CREW.installer })).toEqual([
      "step-at-hand",
      "proved-before",
    ]);
  });

  it("refuses the second look of the one who looked first, and of anyone without the phone", () => {
    const walk = restraining().firstLooks().step();
    const look = { type: "restraint-answered", restraint: "A", round: 2, answer: "home" } as const;
    expect(walk.try({ ...look, seenBy: CREW.installer }, CREW.installer)).toEqual([
      "right-role",
      "other-person",
      "verifier-holds-phone",
    ]);
    expect(walk.try({ ...look, seenBy: CREW.verifier }, CREW.conductor)).toEqual(["verifier-holds-phone"]);
    walk.say({ type: "handed-over", to: CREW.verifier });
    expect(walk.try({ ...look, seenBy: CREW.verifier }, CREW.conductor)).toEqual(["verifier-holds-phone"]);
    walk.say({ ...look, seenBy: CREW.verifier }, CREW.verifier);
  });

  it("logs a first-round catch without a hold: press home, look again", () => {
    const walk = restraining().look(1, "A", "part").look(1, "A");
    expect(walk.snapshot.context.hold).toBeUndefined();
    expect(walk.stands("first-look:A")).toBe(true);
  });

  it("holds on a bad second answer and voids that first look, the pull test and every second look", () => {
    const walk = restraining().firstLooks().step().say({ type: "handed-over", to: CREW.verifier });
    walk.look(2, "C").look(2, "B", "part");
    expect(walk.snapshot.context.hold?.kind).toBe("finding");
    expect(
      Object.keys(walk.snapshot.context.facts)
        .filter((key) => /look|pull/.test(key))
        .sort(),
    ).toEqual(["first-look:A", "first-look:C"]);
    expect(walk.try({ type: "line-called" })).toContain("no-hold");
    walk.say({ type: "hold-cleared", with: CREW.verifier, why: "pressed home" });
    walk.look(1, "B").to("clearing");
  });

  it("accepts a bad answer from anyone, in any turn, on hold", () => {
    const walk = restraining().say({ type: "hold-called", why: "wind" });
    walk.say(
      { type: "restraint-answered", restraint: "A", round: 2, answer: "open", seenBy: "stranger" },
      "n",
    );
    expect(walk.snapshot.context.hold?.kind).toBe("finding");
    expect(
      walk.try({ type: "restraint-answered", restraint: "Z", round: 1, answer: "open", seenBy: "i" }),
    ).toEqual(["restraint-known"]);
  });

  it("looking again in round one voids the pull test and the second looks that rested on it", () => {
    const walk = restraining().firstLooks().step().look(1, "A");
    expect(walk.stands("first-look:B")).toBe(true);
    expect(walk.stands("pull-tested")).toBe(false);
  });

  it("a restraint opened after the proof brings the run back, on hold, with nothing left of it", () => {
    const walk = new Walk(rig, stepByStep(rig))
      .to("clearing")
      .say({ type: "restraint-seen-open", restraint: "B" });
    expect(walk.state).toBe("restraining");
    expect(walk.snapshot.context.hold?.kind).toBe("finding");
    expect(Object.keys(walk.snapshot.context.facts).filter((key) => /look|pull/.test(key))).toEqual([]);
  });

  it("a bottle that moved is mounted again", () => {
    expect(new Walk(rig, stepByStep(rig)).to("clearing").say({ type: "bottle-moved" }).state).toBe(
      "mounting",
    );
  });

  it("a restart voids the proof and holds", () => {
    const walk = restraining().firstLooks().step().restart();
    expect(walk.snapshot.context.hold?.kind).toBe("restart");
    expect(walk.stands("first-look:A")).toBe(false);
    expect(walk.stands("pull-tested")).toBe(false);
  });
});

it("a person's code is only ever a code, even one that every object knows", () => {
  const walk = new Walk(rig, stepByStep(rig));
  for (const person of ["constructor", "toString", "__proto__"])
    expect(walk.try({ type: "signed-on", person, role: "installer" }, person)).toEqual([]);
});
