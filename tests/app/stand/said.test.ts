import { expect, it } from "vitest";
import { fallen, lastPull, restingOn, voidedByEvent, whyMakingSafe } from "../../../app/stand/said.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";

const LOOK = "opening-look";

it("takes the bottle for full after air, a misfire or a bad look, and for empty only after a release", () => {
  const walk = new LoggedWalk().to("charging") as LoggedWalk;
  expect(lastPull(walk.entries, LOOK)).toBe("air");
  walk.to("zeroed").say({ type: "nothing-happened" });
  expect(lastPull(walk.entries, LOOK)).toBe("air");
  const released = new LoggedWalk().to("making-safe") as LoggedWalk;
  expect(lastPull(released.entries, LOOK)).toBe("none");
  released.say({ type: "air-seen-on" });
  expect(lastPull(released.entries, LOOK)).toBe("air");
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
  expect(voidedByEvent(doc, "restarted")).toContain("first-look");
  expect(voidedByEvent(doc, undefined)).toEqual([]);
});

it("names what the run is made safe for, and a later report outranks an earlier one", () => {
  const walk = new LoggedWalk().to("zeroed") as LoggedWalk;
  walk.say({ type: "nothing-happened" });
  expect(whyMakingSafe(walk.entries)).toBe("nothing-happened");
  walk.say({ type: "released" });
  expect(whyMakingSafe(walk.entries)).toBe("released");
});
