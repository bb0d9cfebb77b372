import { expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { issue } from "../../../core/result.ts";
import { type RunReview, reviewRun } from "../../../core/review/review-run.ts";
import {
  parseSignOff,
  type Signing,
  signOff,
  signOffName,
  signOffText,
} from "../../../core/review/sign-off.ts";
import { CREW } from "../../model/walk.ts";
import { LoggedWalk } from "./logged-walk.ts";

const reviewed = (walk: LoggedWalk) => ({
  run: { code: "H-329-04", log: "log", entries: walk.entries, faults: [] },
  review: reviewRun(HERON.rig, HERON.procedure, walk.entries),
});
const scrubbed = () => {
  const walk = new LoggedWalk().to("filling") as LoggedWalk;
  walk.say({ type: "scrub-called", why: "rain" });
  return reviewed(walk);
};
const signing: Signing = { by: "R1", at: 1_780_000_000_000, verdict: "nothing-to-do", note: "" };
const codes = (result: ReturnType<typeof signOff>) =>
  result.ok ? [] : result.issues.map(({ code }) => code);

test("somebody of no part in the run signs it, at the entry that was last", () => {
  const { run, review } = scrubbed();
  expect(review.ended).toBe("scrubbed");
  const signed = signOff(run, review, { ...signing, note: "  as agreed " });
  expect(signed.ok && signed.value).toEqual({
    format: "fourfast-review",
    version: 1,
    run: "H-329-04",
    log: "log",
    head: run.entries.at(-1)?.hash,
    by: "R1",
    at: signing.at,
    verdict: "nothing-to-do",
    note: "as agreed",
  });
});

test.each(Object.values(CREW))("%s, who held a role in it, cannot", (by) => {
  const { run, review } = scrubbed();
  expect(codes(signOff(run, review, { ...signing, by }))).toEqual(["reviewer-in-crew"]);
});

test("what is missing is said all at once", () => {
  const walk = new LoggedWalk().to("filling") as LoggedWalk;
  const { run, review } = reviewed(walk);
  const all = signOff(run, review, { ...signing, by: "", verdict: "follow-up" });
  expect(codes(all)).toEqual(["reviewer-unnamed", "run-not-over", "note-missing"]);
  const long = signOff(run, review, { ...signing, by: "a b", note: "x".repeat(2001) });
  expect(codes(long)).toEqual(["reviewer-unnamed", "run-not-over", "note-too-long"]);
});

test("a log that is not whole is signed by nobody", () => {
  const { run, review } = scrubbed();
  const faults = [issue("entry-changed", "entry 3", "it does not fit", "copy it again")];
  expect(codes(signOff({ ...run, faults }, review, signing))).toEqual(["log-not-whole"]);
});

test("a code that was typed for a role by a slip, before anything was done, bars nobody", () => {
  const walk = new LoggedWalk();
  walk.say({ type: "signed-on", person: "typo", role: "conductor" }, "typo");
  walk.signOn();
  const run = walk.to("filling") as LoggedWalk;
  run.say({ type: "scrub-called", why: "rain" });
  const { run: log, review } = reviewed(run);
  expect(review.crew).not.toContain("typo");
  expect(signOff(log, review, { ...signing, by: "TYPO" }).ok).toBe(true);
});

test("a red finding is not passed over without a word", () => {
  const { run, review } = scrubbed();
  const red: RunReview = {
    ...review,
    findings: [
      ...review.findings,
      { kind: "mismatch", weight: "red", seqs: [1], words: "D open", detail: "" },
    ],
  };
  expect(codes(signOff(run, red, signing))).toEqual(["note-missing"]);
  expect(signOff(run, red, { ...signing, note: "latch D bent, taken off" }).ok).toBe(true);
});

test("its file reads back as it was, and a spoilt one is told by its fields", () => {
  const { run, review } = scrubbed();
  const signed = signOff(run, review, signing);
  if (!signed.ok) throw new Error("it is signed");
  expect(signOffName(signed.value)).toBe(`review-log-${signing.at}.json`);
  expect(parseSignOff(JSON.parse(signOffText(signed.value)))).toEqual(signed);
  const spoilt = parseSignOff({ ...signed.value, head: "abc", verdict: "fine", mood: "good" });
  expect(!spoilt.ok && spoilt.issues.map(({ where }) => where).sort()).toEqual(["head", "mood", "verdict"]);
  expect(parseSignOff(undefined).ok).toBe(false);
});
