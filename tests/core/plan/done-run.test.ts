import { expect, test } from "vitest";
import { termRuns } from "../../../app/demo/term/term.ts";
import { doneRun } from "../../../core/plan/done-run.ts";
import type { Entry } from "../../../core/record/entry.ts";

const [first] = [...termRuns()];
const stored = {
  log: first!.log,
  code: first!.plan.code,
  ...first!.documents,
  entries: first!.entries,
};

test("a run counts with what was weighed and read, for the crew whose letter its codes begin with", () => {
  expect(doneRun(stored)).toEqual({
    code: "H-280-01",
    crew: "P",
    water_kg: expect.closeTo(first!.plan.water_kg, 2),
    setPressure_Pa: expect.closeTo(first!.plan.set_Pa, -2),
  });
});

test("a drill, a run whose water was struck out, and one that was never released count for nothing", () => {
  const asDrill = stored.entries.map(
    (entry): Entry =>
      entry.event.type === "opened" ? { ...entry, event: { ...entry.event, drill: true } } : entry,
  );
  expect(doneRun({ ...stored, entries: asDrill })).toBeUndefined();
  const struck = stored.entries.findIndex(
    ({ event }) => event.type === "step-done" && event.step === "water",
  );
  const last = stored.entries.at(-1)!;
  const corrected: Entry = {
    ...last,
    seq: last.seq + 1,
    event: { type: "corrected", entry: struck, why: "read off another bottle" },
  };
  expect(doneRun({ ...stored, entries: [...stored.entries, corrected] })).toBeUndefined();
  const held = stored.entries.filter(({ event }) => event.type !== "released");
  expect(doneRun({ ...stored, entries: held })).toBeUndefined();
});
