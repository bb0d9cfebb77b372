import { expect, it } from "vitest";
import {
  callVoidedBy,
  fallen,
  isShownEmpty,
  lastPull,
  restingOn,
  saidIn,
  voidedByEvent,
  whyMakingSafe,
} from "../../../app/stand/said.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";

const LOOK = "opening-look";

const said = (walk: LoggedWalk, pending: readonly SequenceEvent[] = []) =>
  saidIn({ entries: walk.entries, pending });
const pull = (walk: LoggedWalk, pending?: readonly SequenceEvent[]) =>
  lastPull(walk.sequence.doc, said(walk, pending), LOOK);
const why = (walk: LoggedWalk) => {
  const { doc } = walk.sequence;
  return whyMakingSafe(doc, said(walk), isShownEmpty(doc, walk.snapshot.context));
};

/** A misfire, the supply shut, and a pull called to empty the bottle. */
const pulling = (): LoggedWalk => {
  const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
  walk.say({ type: "nothing-happened" }).step();
  walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
  return walk;
};

it("takes the bottle for full after air, a misfire or a bad look, and for empty only after a release", () => {
  const walk = new LoggedWalk().to("charging") as LoggedWalk;
  expect(pull(walk)).toBe("air");
  walk.to("zeroed").say({ type: "nothing-happened" });
  expect(pull(walk)).toBe("air");
  const released = new LoggedWalk().to("making-safe") as LoggedWalk;
  expect(pull(released)).toBe("none");
  released.say({ type: "air-seen-on" });
  expect(pull(released)).toBe("air");
});

it("ends a called pull by whatever takes away what the call rested on", () => {
  const ends: readonly SequenceEvent[] = [
    { type: "hold-called", why: "" },
    { type: "line-crossed" },
    { type: "make-safe-called", why: "" },
    { type: "interrupted", cause: "background", gap_ms: 5000 },
    { type: "clock-jumped", wallGap_ms: 900, monoGap_ms: 0 },
    { type: "kit-tagged-out", part: "slide", why: "bent" },
    { type: "power-low", percent: 9 },
    { type: "restraint-seen-open", restraint: "A" },
    { type: "bottle-moved" },
    { type: "restarted" },
  ];
  expect(pull(pulling())).toBe("called");
  for (const event of ends) {
    const walk = pulling();
    expect(pull(walk, [event]), `${event.type}, before it is in the log`).toBe("broken");
    walk.say(event);
    expect(pull(walk), event.type).toBe("broken");
  }
  expect(pull(pulling().say({ type: "noted", text: "windy" }) as LoggedWalk), "a note ends none").toBe(
    "called",
  );
});

it("forgets a pull that was called and that nobody made", () => {
  const walk = pulling();
  const { seq } = walk.entries.at(-1)!;
  walk.say({ type: "corrected", entry: seq, why: "Nobody pulled" });
  expect(pull(walk)).toBe("air");
});

it("says what fell: the facts that stood before and do not stand now", () => {
  const walk = new LoggedWalk().to("clearing");
  const before = walk.snapshot.context;
  walk.say({ type: "restraint-seen-open", restraint: "B" });
  expect(fallen(before, walk.snapshot.context)).toEqual(
    expect.arrayContaining(["first-look:B", "pull-tested", "second-look:A", "second-look:D"]),
  );
  expect(fallen(before, walk.snapshot.context)).not.toContain("mounted");
});

it("says beforehand what a correction would take away, dependents included", () => {
  const walk = new LoggedWalk().to("clearing");
  const { seq } = walk.snapshot.context.facts["pull-tested"]!;
  expect(restingOn(walk.sequence.doc, walk.snapshot.context, seq)).toEqual(
    expect.arrayContaining(["pull-tested", "second-look:A"]),
  );
});

it("reads from the table what a restart voids, as the kernel does", () => {
  const { doc } = new LoggedWalk().sequence;
  expect(voidedByEvent(doc, "restraining", "restarted")).toContain("first-look");
  expect(voidedByEvent(doc, "mounting", "restarted"), "nothing that was never proved").toEqual([]);
  expect(voidedByEvent(doc, "restraining", "noted")).toEqual([]);
});

it("names what the run is made safe for, the newest first", () => {
  const walk = new LoggedWalk().to("charging") as LoggedWalk;
  walk.say({ type: "leak-seen" });
  expect(why(walk)).toEqual({ why: "leak-seen", went: false });
  walk.say({ type: "released" });
  expect(why(walk)).toEqual({ why: "released", went: true });
});

it("keeps a misfire's name, whatever is said after it, until the bottle is shown empty", () => {
  const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
  walk.say({ type: "nothing-happened" });
  for (const typed of ["0", "2.9", "9"]) {
    walk.gauge("line", typed);
    expect(why(walk), `line gauge at ${typed} bar`).toEqual({ why: "nothing-happened", went: false });
  }
  walk.say({ type: "make-safe-called", why: "" });
  expect(why(walk)).toEqual({ why: "nothing-happened", went: false });
  walk.step();
  walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
  walk.say({ type: "released" });
  expect(why(walk)).toEqual({ why: "nothing-happened", went: true });
  walk.step();
  expect(why(walk)).toEqual({ why: "released", went: true });
});

it("takes a reading for a reason only where it was an alarm", () => {
  const quiet = new LoggedWalk().to("charging") as LoggedWalk;
  quiet.gauge("line", "1.5").say({ type: "make-safe-called", why: "" });
  quiet.gauge("line", "0");
  expect(why(quiet)?.why).toBe("make-safe-called");
  const over = new LoggedWalk().to("charging") as LoggedWalk;
  over.gauge("line", "9");
  expect(over.state).toBe("making-safe");
  expect(why(over)?.why).toBe("gauge-read");
});

it("leaves a misfire of an earlier round behind", () => {
  const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
  walk.say({ type: "nothing-happened" }).step();
  walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
  walk.say({ type: "released" }).to("approaching");
  walk.say({ type: "back-called", to: "filling", why: "again" }).say({ type: "make-safe-called", why: "" });
  expect(why(walk)?.why).toBe("make-safe-called");
});

it("says what took a release call away, and nothing where none was made", () => {
  const voided = (event: SequenceEvent) => {
    const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
    walk.say(event).say({ type: "released" });
    expect(walk.snapshot.context.release?.called).toBe(false);
    return callVoidedBy(said(walk), walk.entries.at(-1)!.seq);
  };
  expect(voided({ type: "clock-jumped", wallGap_ms: 900, monoGap_ms: 0 })).toBe("clock-jumped");
  expect(voided({ type: "hold-called", why: "" })).toBe("hold-called");
  const early = new LoggedWalk().to("charging") as LoggedWalk;
  early.say({ type: "released" });
  expect(callVoidedBy(said(early), early.entries.at(-1)!.seq)).toBeUndefined();
});
