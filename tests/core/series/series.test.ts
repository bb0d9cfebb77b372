import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { precisionOf } from "../../../core/series/crew-effects.ts";
import { outlierTest } from "../../../core/series/outlier-test.ts";
import { summarizeReplicates } from "../../../core/series/replicates.ts";
import { trendOf } from "../../../core/series/trend.ts";

const good = <T>(result: { ok: true; value: T } | { ok: false; issues: unknown }): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
const codes = (result: { ok: true } | { ok: false; issues: readonly { code: string; where: string }[] }) =>
  result.ok ? [] : result.issues.map(({ code, where }) => `${code} ${where}`);
const finite = fc.double({ min: 1, max: 100, noNaN: true });

describe("replicates", () => {
  test("a single run has no scatter to speak of, and that is said", () => {
    expect(codes(summarizeReplicates([12]))).toEqual(["too-few-runs values"]);
    expect(codes(summarizeReplicates([12, Number.NaN]))).toEqual(["value-not-finite values[1]"]);
  });

  test("the interval of two runs is 12.7 times the u of their mean", () => {
    const found = good(summarizeReplicates([11.8, 12.2]));
    expect(found.mean).toBeCloseTo(12, 12);
    expect(found.halfWidth / found.u).toBeCloseTo(12.706, 3);
  });

  test("mean and scatter follow a shift and a stretch of the values", () => {
    fc.assert(
      fc.property(fc.array(finite, { minLength: 2, maxLength: 12 }), (values) => {
        const [a, b] = [
          good(summarizeReplicates(values)),
          good(summarizeReplicates(values.map((v) => 3 * v + 7))),
        ];
        expect(b.mean).toBeCloseTo(3 * a.mean + 7, 9);
        expect(b.deviation).toBeCloseTo(3 * a.deviation, 9);
      }),
    );
  });
});

describe("crews", () => {
  test("that all read alike have no between-crew scatter; the estimate below zero is shown as such", () => {
    const found = good(
      precisionOf([
        { crew: "A", values: [11, 13] },
        { crew: "B", values: [11, 13] },
      ]),
    );
    expect(found).toMatchObject({ betweenCrews: 0, betweenBelowZero: true, mean: 12 });
    expect(found.reproducibility).toBe(found.repeatability);
    expect(found.p).toBe(1);
  });

  test("that differ without scatter of their own differ for certain", () => {
    const found = good(
      precisionOf([
        { crew: "A", values: [11, 11] },
        { crew: "B", values: [13, 13] },
      ]),
    );
    expect(found).toMatchObject({ repeatability: 0, p: 0, betweenBelowZero: false });
    expect(found.betweenCrews).toBeCloseTo(Math.SQRT2, 12);
  });

  test("with unlike numbers of runs are weighed by them: the squares add up", () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(finite, { minLength: 1, maxLength: 6 }), { minLength: 2, maxLength: 6 }),
        (lists) => {
          fc.pre(lists.some((list) => list.length > 1));
          const found = good(precisionOf(lists.map((values, i) => ({ crew: String(i), values }))));
          const all = lists.flat();
          const mean = all.reduce((sum, value) => sum + value, 0) / all.length;
          const total = all.reduce((sum, value) => sum + (value - mean) ** 2, 0);
          expect(found.between.squares + found.within.squares).toBeCloseTo(total, 6);
          expect(found.reproducibility).toBeGreaterThanOrEqual(found.repeatability);
          expect(found.p).toBeGreaterThanOrEqual(0);
          expect(found.p).toBeLessThanOrEqual(1);
        },
      ),
    );
  });

  test("need to be two, and one of them to have repeated", () => {
    expect(codes(precisionOf([{ crew: "A", values: [1, 2] }]))).toEqual(["too-few-crews crews"]);
    const singles = [
      { crew: "A", values: [1] },
      { crew: "B", values: [2] },
      { crew: "B", values: [] },
    ];
    expect(codes(precisionOf(singles))).toEqual([
      "too-few-runs B.values",
      "crew-repeated B",
      "too-few-runs crews",
    ]);
  });
});

describe("outliers", () => {
  test("none is found where all is alike", () => {
    expect(good(outlierTest([12, 12, 12]))).toMatchObject({ isOutlier: false, statistic: 0 });
    expect(good(outlierTest([11.9, 12, 12.1, 12.05, 11.95])).isOutlier).toBe(false);
  });

  test("the one far off is named, low or high, and its assumptions come along", () => {
    for (const odd of [9, 15]) {
      const found = good(outlierTest([11.9, 12, odd, 12.1, 12.05, 11.95]));
      expect(found).toMatchObject({ isOutlier: true, suspect: 2 });
      expect(found.assumptions).toHaveLength(4);
    }
  });

  test("two values cannot accuse each other", () => {
    expect(codes(outlierTest([1, 2]))).toEqual(["too-few-runs values"]);
  });
});

describe("trends", () => {
  test("a straight line is found exactly, at any offset of its axis", () => {
    fc.assert(
      fc.property(finite, finite, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (level, slope, offset) => {
        const points = [0, 1, 2, 5].map((x) => ({ x: x + offset, y: level + slope * x }));
        const found = good(trendOf(points));
        expect(Math.abs(found.slope / slope - 1)).toBeLessThan(1e-7);
        expect(Math.abs(found.change / (5 * slope) - 1)).toBeLessThan(1e-7);
      }),
    );
  });

  test("no change has a slope of 0 and a chance of 1", () => {
    expect(good(trendOf([1, 2, 3].map((x) => ({ x, y: 4 }))))).toMatchObject({ slope: 0, p: 1, change: 0 });
  });

  test("the chance is small for what rises steadily and large for what does not", () => {
    const rising = [1, 2, 3, 4, 5, 6].map((x) => ({ x, y: x + (x % 2 ? 0.1 : -0.1) }));
    const level = [1, 2, 3, 4, 5, 6].map((x) => ({ x, y: x % 2 }));
    expect(good(trendOf(rising)).p).toBeLessThan(1e-4);
    expect(good(trendOf(level)).p).toBeGreaterThan(0.5);
  });

  test("needs three runs that were not all alike", () => {
    expect(
      codes(
        trendOf([
          { x: 1, y: 1 },
          { x: 2, y: 1 },
        ]),
      ),
    ).toEqual(["too-few-runs values"]);
    expect(codes(trendOf([1, 2, 3].map((y) => ({ x: 5, y }))))).toEqual(["no-spread x"]);
    expect(codes(trendOf([1, 2, Number.NaN].map((x) => ({ x, y: 5 }))))).toEqual([
      "value-not-finite values[2]",
    ]);
  });
});

/**
 * ISO 5725-2:1994, annex B.1: sulfur in coal, level 1, eight laboratories with three to five results. Data
 * and printed results remembered: mean 0.690, s_r 0.015, s_R 0.026 % by mass; that the one gives the other
 * confirms both. Further digits recomputed with NumPy.
 */
test("crews with unequal runs are weighed as in the standard's own example", () => {
  const results = [
    [0.71, 0.71, 0.7, 0.71],
    [0.69, 0.67, 0.68],
    [0.66, 0.65, 0.69],
    [0.67, 0.65, 0.66],
    [0.7, 0.69, 0.66, 0.71, 0.69],
    [0.73, 0.74, 0.73],
    [0.71, 0.71, 0.69],
    [0.7, 0.65, 0.68],
  ];
  const found = good(precisionOf(results.map((values, i) => ({ crew: String(i + 1), values }))));
  const { mean, repeatability, betweenCrews, reproducibility } = found;
  expect(mean.toFixed(3)).toBe("0.690");
  expect(repeatability.toFixed(3)).toBe("0.015");
  expect(reproducibility.toFixed(3)).toBe("0.026");
  expect(repeatability).toBeCloseTo(0.0151165066, 9);
  expect(betweenCrews).toBeCloseTo(0.0215995546, 9);
  expect(reproducibility).toBeCloseTo(0.0263637921, 9);
});
