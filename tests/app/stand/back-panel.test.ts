import { expect, it } from "vitest";
import { leadsToAir } from "../../../app/stand/back-panel.tsx";
import type { BackTarget } from "../../../core/sequence/vocabulary.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";

const TARGETS: readonly BackTarget[] = ["preparing", "filling", "sealing", "mounting", "restraining"];

const open = (walk: LoggedWalk): readonly BackTarget[] =>
  TARGETS.filter((to) => leadsToAir(walk.sequence.doc, walk.snapshot.context, to));

it("offers after a shot only the stages from which the water is measured again", () => {
  expect(open(new LoggedWalk().to("approaching") as LoggedWalk)).toEqual(["preparing", "filling"]);
});

it("offers every stage while what the air needs stands", () => {
  expect(open(new LoggedWalk().to("clearing") as LoggedWalk)).toEqual(TARGETS);
});

it("offers none past the seal once a leak was seen", () => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.say({ type: "leak-seen" });
  expect(open(walk)).toEqual(["preparing", "filling", "sealing"]);
});

it("leads from each stage it offers after a shot to air, and from no other", () => {
  for (const to of ["preparing", "filling"] as const) {
    const walk = new LoggedWalk().to("approaching") as LoggedWalk;
    walk.say({ type: "back-called", to, why: "again" }).to("charging");
    expect(walk.state).toBe("charging");
  }
});
