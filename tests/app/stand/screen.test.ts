import { describe, expect, it } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import { makingSafeWords } from "../../../app/stand/making-safe-for.tsx";
import { groupFrom, hidesFirstLooks, keyOf, type Screen, screenOf } from "../../../app/stand/screen.ts";
import { stepsOf } from "../../../core/procedure/procedure.ts";
import { ROLES } from "../../../core/sequence/roles.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";

const seen = (walk: LoggedWalk) => ({
  snapshot: walk.snapshot,
  sequence: walk.sequence,
  entries: walk.entries,
  pending: [],
  ...walk.sequence.doc,
});

const at = (walk: LoggedWalk, returnRead = -1): Screen =>
  screenOf(seen(walk), { ...walk.now, by: CREW.conductor }, returnRead);

/** Up to the pull test, which is done too. */
const pulled = (): LoggedWalk => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.step();
  walk.firstLooks().step();
  return walk;
};

/** A misfire, the supply shut, the line called clear, and a pull called to empty the bottle. */
const pulling = (): LoggedWalk => {
  const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
  walk.say({ type: "nothing-happened" }).step();
  walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
  return walk;
};

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

  it("says nothing of pulling once nobody may pull, and asks for the line to be swept again", () => {
    const ends: readonly (readonly SequenceEvent[])[] = [
      [{ type: "hold-called", why: "" }],
      [{ type: "line-crossed" }],
      [{ type: "interrupted", cause: "background", gap_ms: 5000 }],
      [{ type: "restarted" }, { type: "make-safe-called", why: "" }],
    ];
    for (const events of ends) {
      const walk = pulling();
      expect(at(walk).kind).toBe("pulled");
      for (const event of events) walk.say(event);
      if (!walk.stands("supply-isolated")) walk.step();
      const screen = at(walk);
      expect(screen, events[0]?.type).toMatchObject({ kind: "empty", broken: true });
      expect(screen.kind === "empty" && screen.missing.map(({ code }) => code)).toContain("clear");
    }
  });

  it("takes a pull back that nobody made, and asks for the line to be swept again", () => {
    const walk = pulling();
    walk.say({ type: "corrected", entry: walk.entries.at(-1)!.seq, why: "Nobody pulled" });
    expect(at(walk)).toMatchObject({ kind: "empty", broken: false, missing: [{ code: "clear" }] });
  });

  it("never tells hands off the cord beside the pull itself, and names the misfire all the same", () => {
    const words = (walk: LoggedWalk) => makingSafeWords(seen(walk), at(walk).kind);
    const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
    walk.say({ type: "nothing-happened" });
    expect(words(walk)).toBe("MISFIRE. It may still go: hands off the cord, keep the line.");
    walk.step();
    walk.say({ type: "clear-called", seenBy: CREW.conductor });
    expect([at(walk).kind, words(walk)]).toEqual(["empty", "MISFIRE. Empty it from the line only."]);
    walk.say({ type: "discharge-called" });
    expect([at(walk).kind, words(walk)]).toEqual(["pulled", "MISFIRE. Empty it from the line only."]);
    walk.say({ type: "released" });
    expect(words(walk)).toBe("MISFIRE, and then it went. Show that it is empty.");
  });

  it("asks for the phone back before the wait, after a word that ended an unresolved pressure too", () => {
    const walk = new LoggedWalk().to("making-safe") as LoggedWalk;
    walk.say({ type: "unresolved-declared", why: "jammed" }).say({ type: "handed-over", to: CREW.verifier });
    const [person = ""] = HERON.rig.responsible;
    walk.say({ type: "unresolved-ended", person, evidence: "silent", done: "cord freed" }, CREW.verifier);
    expect(at(walk)).toMatchObject({ kind: "hand-over", to: "conductor" });
    walk.say({ type: "handed-over", to: CREW.conductor });
    expect(at(walk).kind).toBe("waiting");
  });

  it("names the hand-over among what a pull waits for where the verifier holds the phone", () => {
    const walk = pulled();
    walk.say({ type: "handed-over", to: CREW.verifier }).say({ type: "air-seen-on" }, CREW.verifier);
    walk.step();
    const screen = screenOf(seen(walk), { ...walk.now, by: CREW.verifier });
    expect(screen.kind === "empty" && screen.missing.map(({ code }) => code)).toContain("conductor-calls");
  });
});

describe("a run that stops before the crew has signed on", () => {
  const stops: readonly SequenceEvent[] = [{ type: "restarted" }, { type: "hold-called", why: "" }];

  it("asks for the crew before the hold, which only they can clear", () => {
    for (const event of stops) {
      const walk = new LoggedWalk();
      walk.say(event, "unsigned");
      expect(at(walk), event.type).toMatchObject({ kind: "sign-on", roles: ROLES });
      walk.signOn();
      expect(at(walk).kind).toBe("hold");
      walk.clearHold();
      expect(at(walk, walk.seq).kind).toBe("step");
    }
  });

  it("asks for whom making safe needs before its first step, and can then be walked to its end", () => {
    const walk = new LoggedWalk();
    walk.say({ type: "make-safe-called", why: "" }, "unsigned");
    const asked = at(walk);
    expect(asked).toMatchObject({ kind: "sign-on", roles: ["conductor", "installer", "verifier"] });
    if (asked.kind !== "sign-on") return;
    for (const role of asked.roles) walk.say({ type: "signed-on", person: CREW[role], role });
    expect(at(walk)).toMatchObject({ kind: "step", step: { id: "supply-shut" } });
    walk.to("approaching");
    expect(at(walk).kind).not.toBe("sign-on");
  });

  it("asks for a conductor, and for one who goes, where the pressure was unresolved with no crew", () => {
    const walk = new LoggedWalk();
    walk.say({ type: "make-safe-called", why: "" }, "unsigned");
    walk.say({ type: "unresolved-declared", why: "nobody here" }, "unsigned");
    const [person = ""] = HERON.rig.responsible;
    walk.say({ type: "unresolved-ended", person, evidence: "silent", done: "nothing" }, "unsigned");
    expect(at(walk)).toMatchObject({ kind: "sign-on", roles: ["conductor", "installer"] });
  });
});
