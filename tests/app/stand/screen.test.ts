import { describe, expect, it } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import { groupFrom, hidesFirstLooks, keyOf } from "../../../app/stand/screen.ts";
import { stepsOf } from "../../../core/procedure/procedure.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";
import { at, pulled, seen } from "./seen.ts";

const charged = (): LoggedWalk => new LoggedWalk().to("armed") as LoggedWalk;

describe("before any pressure", () => {
  it("asks for the crew first, then for the first step", () => {
    const walk = new LoggedWalk();
    expect(at(walk).kind).toBe("sign-on");
    walk.signOn();
    expect(keyOf(at(walk))).toBe("step ready ");
  });

  it("puts routine acts of one person at one place on one screen, and nothing else among them", () => {
    const walk = new LoggedWalk().to("sealing") as LoggedWalk;
    walk.step();
    const screen = at(walk);
    expect(screen.kind === "acts" && screen.steps.map(({ id }) => id)).toEqual([
      "collar-on",
      "washers",
      "soap",
    ]);
  });

  it("never groups a step that proves, warns, holds or asks for an answer", () => {
    for (const { procedure } of [HERON, KINGFISHER])
      for (const phase of Object.keys(procedure.phases)) {
        const steps = stepsOf(procedure, phase as "filling");
        steps.forEach((_, from) => {
          const group = groupFrom(steps.slice(from));
          if (group.length < 2) return;
          expect(group.length).toBeLessThanOrEqual(5);
          expect(new Set(group.map(({ role, place }) => `${role} ${place}`)).size).toBe(1);
          for (const { form, proves, warning, hold } of group)
            expect([form.kind, proves.length, warning, hold]).toEqual(["act", 0, undefined, undefined]);
        });
      }
  });

  it("opens a gate by itself when nothing is missing, and names what is when something is", () => {
    const walk = new LoggedWalk().to("clearing") as LoggedWalk;
    walk.steps();
    expect(at(walk)).toMatchObject({ kind: "gate", call: "air-called", missing: [] });
    const open = keyOf(at(walk));
    walk.wait(HERON.rig.limits.clearBeforeAir_s + 1);
    expect(at(walk)).toMatchObject({ kind: "gate", missing: [{ code: "clear" }] });
    expect(keyOf(at(walk)), "a gate that shuts by itself is another screen").not.toBe(open);
  });
});

describe("the restraints", () => {
  it("come one a screen in the rig's order, and the other way round for the verifier", () => {
    const walk = new LoggedWalk().to("restraining") as LoggedWalk;
    walk.step();
    const order = [1, 2].map((round) => {
      if (round === 2) walk.step().say({ type: "handed-over", to: CREW.verifier });
      return HERON.rig.restraints.map(() => {
        const screen = at(walk);
        if (screen.kind !== "restraint") throw new Error(keyOf(screen));
        walk.look(screen.round, screen.restraint.id);
        return screen.restraint.id;
      });
    });
    expect(order).toEqual([
      ["A", "B", "C", "D"],
      ["D", "C", "B", "A"],
    ]);
  });

  it("shows a first-round find as caught, at the same restraint, without a hold", () => {
    const walk = new LoggedWalk().to("restraining") as LoggedWalk;
    walk.step();
    walk.look(1, "A").look(1, "B", "part");
    expect(at(walk)).toMatchObject({ kind: "restraint", restraint: { id: "B" }, caught: "part" });
    walk.look(1, "B");
    expect(at(walk)).toMatchObject({ restraint: { id: "C" } });
    expect(at(walk)).not.toHaveProperty("caught");
  });

  it("asks for the verifier's code before the second looks, and again after a minute without an entry", () => {
    const walk = pulled();
    expect(at(walk)).toMatchObject({ kind: "hand-over", to: "verifier", again: false });
    walk.say({ type: "handed-over", to: CREW.verifier });
    expect(at(walk)).toMatchObject({ kind: "restraint", round: 2 });
    walk.wait(61);
    expect(at(walk)).toMatchObject({ kind: "hand-over", to: "verifier", again: true });
  });

  it("hides the first looks from the hand-over until the second ones are in", () => {
    const walk = pulled();
    expect(hidesFirstLooks(seen(walk))).toBe(true);
    walk.step();
    expect(hidesFirstLooks(seen(walk))).toBe(false);
  });

  it("turns a second look that differs into a hold", () => {
    const walk = pulled();
    walk.say({ type: "handed-over", to: CREW.verifier }).look(2, "D", "open");
    expect(at(walk).kind).toBe("hold");
  });

  it("asks for the phone back before anything else goes on", () => {
    const walk = pulled();
    walk.say({ type: "handed-over", to: CREW.verifier });
    for (const id of ["D", "C", "B", "A"]) walk.look(2, id);
    expect(at(walk)).toMatchObject({ kind: "hand-over", to: "conductor" });
  });
});

describe("a hold", () => {
  it("leads back by way of the step before, until that was read", () => {
    const walk = new LoggedWalk().to("sealing") as LoggedWalk;
    walk.step().say({ type: "hold-called", why: "" });
    expect(at(walk).kind).toBe("hold");
    walk.clearHold();
    const card = at(walk);
    expect(card).toMatchObject({ kind: "return", redo: { id: "collar-on" }, reread: { id: "slide-dry" } });
    expect(at(walk, card.kind === "return" ? card.cleared : -1).kind).toBe("acts");
  });

  it("does not stand before the steps of making safe", () => {
    const walk = charged();
    walk.say({ type: "hold-called", why: "" }).say({ type: "make-safe-called", why: "" });
    expect(at(walk)).toMatchObject({ kind: "step", step: { id: "supply-shut" } });
  });
});

describe("with pressure possible", () => {
  it("counts from the zero, and offers the zero only while the clear call is fresh", () => {
    const walk = charged();
    walk.steps();
    expect(at(walk)).toMatchObject({ kind: "zero", missing: [] });
    walk.wait(HERON.rig.limits.clearBeforeZero_s + 1);
    expect(at(walk)).toMatchObject({ kind: "zero", missing: [{ code: "clear" }] });
    walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "release-called" });
    expect(at(walk).kind).toBe("count");
  });

  it("after a misfire on a rig that only its release empties: shut, then pull, then ask what happened", () => {
    const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
    walk.say({ type: "nothing-happened" });
    walk.step();
    expect(at(walk)).toMatchObject({ kind: "empty", missing: [] });
    walk.say({ type: "discharge-called" });
    expect(at(walk).kind).toBe("pulled");
    walk.say({ type: "nothing-happened" });
    expect(at(walk), "each pull needs the line called clear again").toMatchObject({
      kind: "empty",
      missing: [{ code: "clear" }],
    });
    walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
    walk.say({ type: "released" });
    expect(at(walk)).toMatchObject({ kind: "step", step: { id: "opening-look" } });
  });

  it("offers another pull when the look finds the slide still over the opening", () => {
    const walk = new LoggedWalk().to("making-safe") as LoggedWalk;
    walk.step().say({
      type: "step-done",
      step: "opening-look",
      seenBy: CREW.verifier,
      answer: "Slide still over the opening",
    });
    expect(at(walk).kind).toBe("empty");
  });

  it("asks a rig with a vent for its gauges, never for a pull", () => {
    const walk = new LoggedWalk(KINGFISHER).to("zeroed") as LoggedWalk;
    walk.say({ type: "nothing-happened" });
    walk.step();
    expect(at(walk)).toMatchObject({ kind: "step", step: { id: "bleed" } });
  });

  it("knows nothing after a restart, and has one way on", () => {
    const walk = charged();
    walk.restart();
    expect(at(walk).kind).toBe("unknown");
    walk.say({ type: "make-safe-called", why: "" });
    expect(at(walk).kind).toBe("step");
  });

  it("stays unresolved until the responsible person's word", () => {
    const walk = new LoggedWalk().to("making-safe") as LoggedWalk;
    walk.say({ type: "unresolved-declared", why: "jammed" }).restart();
    expect(at(walk).kind).toBe("unresolved");
  });

  it("names the wait apart from its end, so that no finger is already on the next button", () => {
    const walk = new LoggedWalk().to("waiting") as LoggedWalk;
    const during = keyOf(at(walk));
    walk.wait(HERON.rig.limits.waitAfterRelease_s);
    expect([during, keyOf(at(walk))]).toEqual(["waiting", "waited"]);
  });

  it("is over when it is closed", () => {
    expect(at(new LoggedWalk().to("closed") as LoggedWalk).kind).toBe("over");
  });
});
