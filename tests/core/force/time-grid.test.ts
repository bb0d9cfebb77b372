import { describe, expect, test } from "vitest";
import { gridFromTimes } from "../../../core/force/time-grid.ts";

const lineOf = (row: number) => row + 2;
const differ = () => false;
const grid = (time: readonly number[], same: (a: number, b: number) => boolean = differ, toSI = 1) =>
  gridFromTimes(Float64Array.from(time), toSI, lineOf, same);
const even = (n: number, step: number, start = 0) => Array.from({ length: n }, (_, i) => start + i * step);

function good(result: ReturnType<typeof grid>) {
  if (!result.ok) throw new Error(result.issues.map((i) => i.code).join());
  return result.value;
}

describe("times", () => {
  test("that run evenly need no places: row i is moment i", () => {
    const found = good(grid(even(2000, 0.00025, 1.5)));
    expect(found.rate_Hz).toBeCloseTo(4000, 6);
    expect([found.start_s, found.samples, found.slots, found.gaps]).toEqual([1.5, 2000, undefined, []]);
  });

  test("rounded in print, in milliseconds, are even all the same", () => {
    const printed = even(3000, 1000 / 1652).map((t) => Number(t.toFixed(2)));
    const found = good(grid(printed, differ, 1e-3));
    expect(found.rate_Hz).toBeCloseTo(1652, 1);
    expect(found.gaps).toEqual([]);
  });

  test("too coarse to tell rows apart give the mean rate and no false gaps", () => {
    const printed = even(3000, 1 / 1652).map((t) => Number(t.toFixed(3)));
    const found = good(grid(printed));
    expect(found.rate_Hz).toBeCloseTo(1652, 0);
    expect([found.samples, found.gaps, found.duplicates]).toEqual([3000, [], 0]);
  });

  test("show where rows are missing, and how many", () => {
    const all = even(1000, 0.001);
    const found = good(grid(all.filter((_, i) => i !== 300 && (i < 700 || i >= 712))));
    expect(found.gaps.map(({ from, count }) => [from, count])).toEqual([
      [300, 1],
      [700, 12],
    ]);
    expect([found.samples, found.slots![299], found.slots![300]]).toEqual([1000, 299, 301]);
  });

  test("that repeat a row are counted as doubles, and doubles that differ are said", () => {
    const all = even(500, 0.001);
    const doubled = [...all.slice(0, 201), ...all.slice(200)];
    expect(good(grid(doubled, () => true))).toMatchObject({ duplicates: 1, samples: 500, notes: [] });
    expect(good(grid(doubled)).notes.map((n) => [n.code, n.where])).toEqual([
      ["duplicates-differ", "line 203"],
    ]);
  });

  test("out of order put the rows where they belong", () => {
    const all = even(500, 0.001);
    [all[100], all[101]] = [all[101]!, all[100]!];
    const found = good(grid(all));
    expect([found.slots![100], found.slots![101], found.gaps]).toEqual([101, 100, []]);
  });

  test("that wander are told from those that are only rounded", () => {
    const wandering = even(2000, 0.001).map((t, i) => t + 0.0004 * Math.sin(i * 1.7));
    const found = good(grid(wandering));
    expect(found.uneven).toBe(true);
    expect(found.notes.map((n) => n.code)).toEqual(["time-uneven"]);
    expect(found.rate_Hz).toBeCloseTo(1000, 0);
  });

  test("that are missing in some rows leave those rows out", () => {
    const all = even(500, 0.001);
    all[77] = Number.NaN;
    const found = good(grid(all));
    expect(found.slots![77]).toBe(-1);
    expect(found.notes.map((n) => [n.code, n.where])).toEqual([["time-missing", "line 79"]]);
  });

  test.each([
    ["start again in the middle", [...even(500, 0.001), ...even(500, 0.001)], "time-runs-back", "line 502"],
    ["jump by hours", [...even(500, 0.001), ...even(500, 0.001, 7200)], "time-jumps", "line 502"],
    ["stand still", Array<number>(500).fill(3), "time-unusable", "line 2"],
    ["run backward", even(500, -0.001, 5), "time-unusable", "line 2"],
  ])("that %s are refused, with the line", (_how, time, code, where) => {
    const result = grid(time, () => true);
    expect(result.ok ? [] : result.issues.map((i) => [i.code, i.where])).toEqual([[code, where]]);
  });
});
