import { describe, expect, it } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { makingSafeWords } from "../../../app/stand/making-safe-for.tsx";
import { screenOf } from "../../../app/stand/screen.ts";
import { ROLES } from "../../../core/sequence/roles.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";
import { at, pulled, seen } from "./seen.ts";

/** A misfire, the supply shut, the line called clear, and a pull called to empty the bottle. */
const pulling = (): LoggedWalk => {
  const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
  walk.say({ type: "nothing-happened" }).step();
  walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
  return walk;
};

describe("emptying by a pull", () => {
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
