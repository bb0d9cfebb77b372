import { expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import type { Finding, FindingKind } from "../../../core/review/finding.ts";
import { reviewRun } from "../../../core/review/review-run.ts";
import { CREW } from "../../model/walk.ts";
import { LoggedWalk } from "./logged-walk.ts";

const reviewed = (walk: LoggedWalk) => reviewRun(HERON.rig, HERON.procedure, walk.entries);

const of = (findings: readonly Finding[], kind: FindingKind): readonly Finding[] =>
  findings.filter((finding) => finding.kind === kind);

test("finds nothing to say of an unhurried nominal run, and shows every entry of it", () => {
  const walk = new LoggedWalk().to("closed") as LoggedWalk;
  const { findings, timeline, ended, crew } = reviewed(walk);
  expect(findings).toEqual([]);
  expect(ended).toBe("closed");
  expect(timeline.map(({ entry }) => entry.seq)).toEqual(walk.entries.map(({ seq }) => seq));
  expect([...crew].sort()).toEqual([...Object.values(CREW)].sort());
});

test("names a restraint answered in under a second as red, and in under two as amber", () => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.step();
  walk.look(1, "A");
  walk.pause_s = 0.9;
  walk.look(1, "B");
  walk.pause_s = 1.5;
  walk.look(1, "C");
  const hurried = of(reviewed(walk).findings, "hurried");
  expect(hurried.filter(({ seqs }) => seqs.length === 1).map(({ weight, words }) => [weight, words])).toEqual(
    [
      ["red", "B answered, round 1, in 0.9 s"],
      ["amber", "C answered, round 1, in 1.5 s"],
    ],
  );
});

test("calls a bad first look a catch and a bad second look a mismatch with its hold", () => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.step();
  walk.look(1, "A", "part");
  walk.firstLooks().step();
  walk.say({ type: "handed-over", to: CREW.verifier });
  walk.look(2, "D", "open");
  const { findings } = reviewed(walk);
  expect(of(findings, "catch").map(({ words }) => words)).toEqual(["A found “part” at the first look"]);
  expect(of(findings, "mismatch").map(({ weight, words }) => [weight, words])).toEqual([
    ["red", "D found “open” at the second look"],
  ]);
  expect(of(findings, "held")[0]?.detail).toBe("never cleared");
  expect(of(findings, "unfinished")).toHaveLength(1);
});

test("shows refusals with all that was missing, and what was reported in which state", () => {
  const walk = new LoggedWalk();
  walk.signOn();
  expect(walk.try({ type: "fill-called" })).not.toEqual([]);
  walk.to("armed");
  walk.say({ type: "line-crossed" });
  const { findings } = reviewed(walk);
  expect(of(findings, "refused")[0]?.detail).toContain("bottle-fit");
  expect(of(findings, "reported").map(({ weight, words }) => [weight, words])).toEqual([
    ["red", "line crossed, while armed"],
  ]);
});

test("flags a hold that was cleared faster than a reason can be given", () => {
  const walk = new LoggedWalk().to("filling") as LoggedWalk;
  walk.say({ type: "hold-called", why: "" });
  walk.pause_s = 3;
  walk.clearHold();
  walk.pause_s = 20;
  walk.say({ type: "hold-called", why: "gust" });
  walk.clearHold();
  const held = of(reviewed(walk).findings, "held");
  expect(held.map(({ weight, words }) => [weight, words.replace(/^.*: /, "")])).toEqual([
    ["amber", "hold called, 3 s"],
    ["note", "gust, 20 s"],
  ]);
});

test("names a release outside the window, and one without a call", () => {
  const late = new LoggedWalk().to("zeroed") as LoggedWalk;
  late.wait(8).say({ type: "released" });
  expect(of(reviewed(late).findings, "late").map(({ weight }) => weight)).toEqual(["amber"]);

  const early = new LoggedWalk().to("charged") as LoggedWalk;
  early.say({ type: "released" });
  expect(of(reviewed(early).findings, "late").map(({ weight }) => weight)).toEqual(["red"]);
});

test("a restart while charged is red, and no pace is judged across it", () => {
  const walk = new LoggedWalk().to("charged") as LoggedWalk;
  walk.pause_s = 1;
  walk.restart();
  const { findings } = reviewed(walk);
  expect(of(findings, "restarted").map(({ weight }) => weight)).toEqual(["red"]);
  expect(of(findings, "hurried")).toEqual([]);
});

test("sees answers that are tapped to a beat", () => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.step();
  walk.pause_s = 4;
  walk.firstLooks();
  expect(of(reviewed(walk).findings, "in-step")).toHaveLength(1);
});

test("a correction, a step done twice and a note each point at their entries", () => {
  const walk = new LoggedWalk().to("filling") as LoggedWalk;
  const filled = walk.entries.length;
  walk.step();
  walk.say({ type: "corrected", entry: filled, why: "mistyped" });
  walk.step();
  walk.say({ type: "noted", text: "wind from the west" });
  const { findings } = reviewed(walk);
  expect(of(findings, "corrected").map(({ seqs, detail }) => [seqs[0], detail])).toEqual([
    [filled, "mistyped"],
  ]);
  expect(of(findings, "redone").map(({ seqs }) => seqs)).toEqual([[filled, filled + 2]]);
  expect(of(findings, "reported").map(({ words }) => words)).toEqual(["note: wind from the west"]);
});
