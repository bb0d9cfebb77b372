import { expect, test } from "vitest";
import { levelLabels, roundLevels } from "../../../app/plan/contour-levels.ts";

test("levels are round and lie between the ends", () => {
  expect(roundLevels(0.3, 17.4, 8)).toEqual([5, 10, 15]);
  expect(roundLevels(0.3, 17.4, 9)).toEqual([2, 4, 6, 8, 10, 12, 14, 16]);
  expect(roundLevels(0.07, 0.31, 6)).toEqual([0.1, 0.15, 0.2, 0.25, 0.3]);
});

test("a flat map has no levels", () => {
  expect(roundLevels(3, 3, 8)).toEqual([]);
  expect(roundLevels(Number.NaN, 3, 8)).toEqual([]);
});

test("each label stands where its level is crossed, and labels of one column keep apart", () => {
  const x = Array.from({ length: 21 }, (_, i) => i);
  const y = Array.from({ length: 21 }, (_, i) => i);
  const values = Float64Array.from({ length: 441 }, (_, k) => 2 * Math.floor(k / 21) + 0.1 * (k % 21));
  const levels = roundLevels(0, 42, 9);
  const labels = levelLabels({ values, x, y }, levels);
  expect(labels.length).toBeGreaterThanOrEqual(7);
  for (const label of labels) expect(2 * label.y + 0.1 * label.x).toBeCloseTo(label.level, 9);
  const crowded = levelLabels({ values, x, y }, roundLevels(0, 42, 80));
  for (const label of crowded) {
    const near = crowded.filter((other) => other !== label && other.x === label.x);
    for (const other of near) expect(Math.abs(other.y - label.y)).toBeGreaterThan(0.055 * 20);
  }
});
