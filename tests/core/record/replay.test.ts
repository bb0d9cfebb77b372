import { expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { foldEntry, isAboutTheRecord, replay } from "../../../core/record/replay.ts";
import { createSequence } from "../../../core/sequence/advance.ts";
import { CREW } from "../../simulation/crew.ts";
import { nominalLog, OPENED, SHORT_LOG, sealAll } from "./short-log.ts";

const sequence = createSequence(HERON.rig, HERON.procedure);

test("a log folds to the state that the run was in", () => {
  const folded = replay(sequence, nominalLog());
  expect(folded.ok && folded.value.state).toBe("closed");
  expect(folded.ok && folded.value.context.crew).toEqual(CREW);
});

test("what is said about the log's keeping leaves the run as it is", () => {
  expect(isAboutTheRecord(OPENED)).toBe(true);
  const [opened] = SHORT_LOG;
  if (opened)
    expect(foldEntry(sequence, sequence.initial, opened)).toEqual({ ok: true, value: sequence.initial });
});

test("a permission that the sequence would not have given is named with its entry and all that is missing", () => {
  const log = sealAll([OPENED, { type: "air-called" }, { type: "line-crossed" }, { type: "fill-called" }]);
  const folded = replay(sequence, log);
  expect(folded.ok).toBe(false);
  if (folded.ok) return;
  const where = new Set(folded.issues.map((found) => found.where));
  expect(where).toEqual(new Set(["entry 1, air-called", "entry 3, fill-called"]));
  expect(folded.issues.length).toBeGreaterThan(8);
});
