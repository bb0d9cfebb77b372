import { expect, it } from "vitest";
import { releaseWords } from "../../../app/stand/over-screen.tsx";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";

const words = (walk: LoggedWalk): string =>
  releaseWords({ snapshot: walk.snapshot, entries: walk.entries, pending: [] });

it("tells a release that was called from one whose call was void, and by what", () => {
  expect(words(new LoggedWalk().to("making-safe") as LoggedWalk)).toBe("on time");
  const jumped = new LoggedWalk().to("zeroed") as LoggedWalk;
  jumped.say({ type: "clock-jumped", wallGap_ms: 900, monoGap_ms: 0 }).say({ type: "released" });
  expect(words(jumped)).toBe("called, and the call was void: the phone's clock jumped");
  const held = new LoggedWalk().to("zeroed") as LoggedWalk;
  held.say({ type: "hold-called", why: "" }).say({ type: "released" });
  expect(words(held)).toBe("called, and the call was void: hold");
});

it("tells a pull that emptied the bottle, an early release and none from a call", () => {
  const emptied = new LoggedWalk().to("zeroed").say({ type: "nothing-happened" }).step() as LoggedWalk;
  emptied.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" });
  expect(words(emptied)).toBe("none");
  emptied.say({ type: "released" });
  expect(words(emptied)).toBe("by a pull to empty it");
  expect(words(new LoggedWalk().to("charging").say({ type: "released" }) as LoggedWalk)).toBe("not called");
});
