import { expect, test } from "vitest";
import { matrixText, readMatrixText } from "../../../core/plan/matrix-file.ts";
import { type MatrixPlan, testMatrix } from "../../../core/plan/test-matrix.ts";

const plan: MatrixPlan = {
  water_kg: [0.45, 0.6],
  setPressure_Pa: [250_000, 300_000],
  replicates: 2,
  crews: ["P", "Q"],
  seed: 7,
};

test("a saved matrix comes back with the same runs in the same order", () => {
  const read = readMatrixText(matrixText("heron", plan));
  expect(read).toEqual({
    ok: true,
    value: { rig: "heron", synthetic: false, matrix: good(testMatrix(plan)) },
  });
});

test.each([
  ["no JSON", "{", "matrix-unreadable"],
  ["another format", '{"format":"x"}', "matrix-unreadable"],
  ["a level that is text", matrixText("heron", plan).replace("0.45", '"0.45"'), "matrix-unreadable"],
  ["no crews", matrixText("heron", { ...plan, crews: [] }), "list-empty"],
])("refuses %s", (_what, text, code) => {
  const read = readMatrixText(text);
  expect(read.ok ? [] : read.issues.map((one) => one.code)).toContain(code);
});

const good = <T>(result: { ok: true; value: T } | { ok: false }) => (result.ok ? result.value : undefined);
