import { expect, test } from "vitest";
import { around, between, type Extent, pan, wholeOf, zoomIn, zoomOut } from "../../../app/bench/viewport.ts";

const record: Extent = { from_s: 0, to_s: 8, least_s: 0.01 };
const roundTo = ({ from_s, to_s }: { from_s: number; to_s: number }) =>
  [from_s, to_s].map((x) => Number(x.toFixed(9)));

test("zooming in keeps the moment it is about in its place on the screen", () => {
  const view = zoomIn(wholeOf(record), record, 2);
  expect(roundTo(view)).toEqual([1, 5]);
  expect((2 - view.from_s) / (view.to_s - view.from_s)).toBeCloseTo(2 / 8, 12);
});

test("zooming out undoes zooming in, and stops at the whole record", () => {
  const near = zoomIn(wholeOf(record), record, 3);
  expect(roundTo(zoomOut(near, record, 3))).toEqual([0, 8]);
  expect(roundTo(zoomOut(wholeOf(record), record))).toEqual([0, 8]);
});

test("never nearer than the least stretch", () => {
  let view = wholeOf(record);
  for (let i = 0; i < 30; i++) view = zoomIn(view, record, 4);
  expect(view.to_s - view.from_s).toBeCloseTo(0.01, 12);
});

test("a move past the end stops there without squeezing", () => {
  let view = { from_s: 6, to_s: 7 };
  for (let i = 0; i < 10; i++) view = pan(view, record, 1);
  expect(roundTo(view)).toEqual([7, 8]);
  for (let i = 0; i < 50; i++) view = pan(view, record, -1);
  expect(roundTo(view)).toEqual([0, 1]);
});

test("a stretch drawn backwards is the same stretch", () => {
  expect(between(3, 2, record)).toEqual(between(2, 3, record));
});

test("an event is shown with room around it", () => {
  expect(roundTo(around(1.3, 1.4, record, 0.5))).toEqual([1.25, 1.45]);
  expect(around(0, 0.1, record, 0.5).from_s).toBe(0);
});
