import { expect, test } from "vitest";
import { draftOf, type MatrixDraft, readDraft } from "../../../app/plan/matrix-draft.ts";

const gramsAndBar = { water: 1e-3, pressure: 1e5 };
const draft: MatrixDraft = {
  water: "450 600; 750",
  pressure: "2,5 3.0",
  replicates: "4",
  crews: "P, Q R",
  seed: 3,
};

test("reads lists with blanks or semicolons between, and a decimal comma", () => {
  expect(readDraft(draft, gramsAndBar)).toEqual({
    ok: true,
    value: {
      water_kg: [0.45, 0.6, 0.75],
      setPressure_Pa: [250_000, 300_000],
      replicates: 4,
      crews: ["P", "Q", "R"],
      seed: 3,
    },
  });
});

test("in another unit the levels are the same quantities", () => {
  const read = readDraft(draft, gramsAndBar);
  if (!read.ok) throw new Error("unreadable");
  const inPsi = draftOf(read.value, { water: 1e-3, pressure: 6894.757293168361 });
  expect(inPsi.pressure).toBe("36.26 43.51");
  const back = readDraft(draftOf(read.value, { water: 1, pressure: 1000 }), { water: 1, pressure: 1000 });
  expect(back.ok && back.value.setPressure_Pa).toEqual([250_000, 300_000]);
});

test("names every level that is no number, each under its own field", () => {
  const read = readDraft({ ...draft, water: "450 6oo", pressure: "3 bar", replicates: "four" }, gramsAndBar);
  expect(read.ok ? [] : read.issues.map(({ code, where, detail }) => [code, where, detail])).toEqual([
    ["level-unreadable", "water_kg", '"6oo" is no number'],
    ["level-unreadable", "setPressure_Pa", '"bar" is no number'],
    ["replicates-unreadable", "replicates", '"four" is no number'],
  ]);
});
