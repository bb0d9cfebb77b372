import { expect, test } from "vitest";
import { termFiles, termRuns } from "../../../../app/demo/term/term.ts";
import { termMatrix, termPlan } from "../../../../app/demo/term/term-plan.ts";
import { replay } from "../../../../core/record/replay.ts";
import { verifyEntries } from "../../../../core/record/verify.ts";
import { createSequence } from "../../../../core/sequence/advance.ts";

const runs = [...termRuns()];
const files = [...termFiles()];

test("24 runs, each with a code of its own, every cell once in each crew's block", () => {
  expect(new Set(runs.map(({ plan }) => plan.code)).size).toBe(24);
  for (const crew of termMatrix.crews) {
    const block = termPlan().filter((run) => run.crew === crew);
    expect(new Set(block.map(({ water_kg, set_Pa }) => `${water_kg}/${set_Pa}`)).size).toBe(6);
  }
});

test("the order within a block is drawn, not sorted, and the same seed draws it again", () => {
  const order = (crew: string) =>
    termPlan()
      .filter((run) => run.crew === crew)
      .map(({ water_kg, set_Pa }) => `${water_kg}/${set_Pa}`)
      .join(" ");
  expect(order("P")).not.toBe(order("Q"));
  expect(termPlan()).toEqual(termPlan());
});

test("every log verifies, folds through the real sequence and ends closed on a release in time", () => {
  for (const { documents, entries, plan } of runs) {
    expect(verifyEntries(entries).ok).toBe(true);
    const state = replay(createSequence(documents.rig, documents.procedure), entries);
    expect(state.ok && state.value.state, plan.code).toBe("closed");
    expect(state.ok && state.value.context.release?.onTime, plan.code).toBe(true);
  }
});

test("all of it is marked SYNTHETIC: rigs, procedures, logs and the first line of every force file", () => {
  for (const { documents, entries } of runs) {
    expect(documents.rig.synthetic && documents.procedure.synthetic).toBe(true);
    expect(documents.procedure.title).toContain("SYNTHETIC");
    expect(entries[0]!.event).toMatchObject({ software: "SYNTHETIC demo term" });
  }
  for (const { text } of files) expect(text.split("\n")[0]).toContain("SYNTHETIC");
});

test("23 files hold the 24 firings: one holds two, and one does not say whose it is", () => {
  expect(files.length).toBe(23);
  expect(files.flatMap(({ holds }) => holds).sort()).toEqual(runs.map(({ plan }) => plan.code).sort());
  const silent = files.filter(({ text, holds }) => !text.slice(0, 200).includes(holds[0]!));
  expect(silent.length).toBe(1);
});

test("what the log says is what the crew could see: the set pressure, not the one that was true", () => {
  const biased = runs.filter(({ plan }) => plan.crew === "R");
  for (const { entries, plan } of biased) {
    const read = entries.find(({ event }) => event.type === "step-done" && event.step === "pressure-read");
    expect(read?.event).toMatchObject({ reading: { typed: (plan.set_Pa / 1e5).toFixed(2), unit: "bar" } });
    expect(plan.truth.pressure_Pa).toBeLessThan(plan.set_Pa - 2000);
  }
});
