import { describe, expect, test } from "vitest";
import { precisionOf } from "../../core/series/crew-effects.ts";
import { criticalValue, outlierTest } from "../../core/series/outlier-test.ts";
import { summarizeReplicates } from "../../core/series/replicates.ts";
import { trendOf } from "../../core/series/trend.ts";
import { relative } from "./prediction-cases.ts";

const good = <T>(result: { ok: true; value: T } | { ok: false; issues: unknown }): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

/**
 * NIST Statistical Reference Datasets, "SiRstv" (analysis of variance, five instruments, five
 * readings each). Data and certified sums of squares remembered; that the certified digits come out
 * of the data confirms both.
 */
describe("NIST StRD SiRstv", () => {
  const readings = [
    [196.3052, 196.124, 196.189, 196.2569, 196.3403],
    [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
    [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
    [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
    [196.2119, 196.1051, 196.185, 196.0052, 196.209],
  ];
  const precision = good(precisionOf(readings.map((values, i) => ({ crew: String(i + 1), values }))));

  test("sums of squares and F as certified", () => {
    // The data has seven digits and the squares lose six of them: nine of fifteen digits remain.
    expect(relative(precision.between.squares, 5.11462616e-2)).toBeLessThan(1e-8);
    expect(relative(precision.within.squares, 2.1663656e-1)).toBeLessThan(1e-8);
    expect([precision.between.freedom, precision.within.freedom]).toEqual([4, 20]);
    expect(relative(precision.between.mean / precision.within.mean, 1.18046237440255)).toBeLessThan(1e-8);
  });

  test("repeatability and reproducibility by the formulas of ISO 5725-2, 7.4.5 (remembered)", () => {
    const [within, between] = [2.1663656e-1 / 20, 5.11462616e-2 / 4];
    expect(relative(precision.repeatability, Math.sqrt(within))).toBeLessThan(1e-8);
    expect(relative(precision.betweenCrews, Math.sqrt((between - within) / 5))).toBeLessThan(1e-7);
    expect(relative(precision.reproducibility, Math.sqrt(within + (between - within) / 5))).toBeLessThan(
      1e-7,
    );
    expect(precision.repeatabilityLimit).toBe(2.8 * precision.repeatability);
  });

  test("F of 1.18 on 4 and 20 degrees is no sign of a difference", () => {
    // F tables, 5 % point on 4 and 20 degrees of freedom: 2.87 (NIST/SEMATECH e-Handbook 1.3.6.7.3, remembered).
    expect(precision.p).toBeGreaterThan(0.3);
    expect(precision.p).toBeLessThan(0.4);
  });
});

/** 5 % point of F on 4 and 20 degrees: groups built to have just that ratio. */
test("the chance of F = 2.866 on 4 and 20 degrees is 5 %", () => {
  // Five crews with offsets of mean square 2.866 x 5 runs of mean square 1 within: SYNTHETIC.
  const within = [-1, -0.5, 0, 0.5, 1].map((value) => value / Math.sqrt(0.625));
  const offsets = [-1, -0.5, 0, 0.5, 1].map((value) => (value / Math.sqrt(0.625)) * Math.sqrt(2.866 / 5));
  const groups = offsets.map((offset, i) => ({
    crew: String(i),
    values: within.map((value) => 10 + offset + value),
  }));
  expect(good(precisionOf(groups)).p).toBeCloseTo(0.05, 3);
});

/**
 * NIST/SEMATECH e-Handbook 1.3.5.17.1, Grubbs' test on the mass spectrometer readings of Tietjen and
 * Moore (remembered): G = 2.468764, critical value 2.032 for the upper tail at 5 %.
 */
describe("Grubbs", () => {
  const readings = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];

  test("the handbook's statistic and critical value", () => {
    const found = good(outlierTest(readings));
    // The handbook cuts the seventh digit off.
    expect(Math.abs(found.statistic - 2.468764)).toBeLessThan(1e-6);
    expect(found.suspect).toBe(7);
    expect(criticalValue(8, 0.05 / 8)).toBeCloseTo(2.032, 3);
    expect(found.isOutlier).toBe(true);
  });

  /** Two-sided 5 % critical values of Grubbs' table (ISO 5725-2:1994, table 5, one value; remembered): its last digit is off by one in places. */
  test.each([
    [3, 1.155],
    [5, 1.715],
    [8, 2.126],
    [10, 2.29],
    [20, 2.709],
  ])("%d values: %d", (count, critical) => {
    expect(Math.abs(criticalValue(count, 0.05 / (2 * count)) - critical)).toBeLessThan(1e-3);
  });
});

/**
 * NIST/SEMATECH e-Handbook 1.3.5.2 (remembered): 195 readings, mean 9.261460, standard deviation
 * 0.022789, so 9.258242 to 9.264679 at 95 %. Readings SYNTHETIC, made to have just these two.
 */
test("t interval of the mean on 194 degrees of freedom", () => {
  const shape = Array.from({ length: 195 }, (_, i) => i - 97);
  const scale = 0.022789 / Math.sqrt(shape.reduce((sum, x) => sum + x * x, 0) / 194);
  const found = good(summarizeReplicates(shape.map((x) => 9.26146 + scale * x)));
  expect(found.mean - found.halfWidth).toBeCloseTo(9.258242, 5);
  expect(found.mean + found.halfWidth).toBeCloseTo(9.264679, 5);
});

/** NIST StRD univariate "NumAcc1" and "NumAcc3" (remembered): exact mean and deviation. */
test.each([
  ["NumAcc1", [10000001, 10000003, 10000002], 10000002, 1],
  [
    "NumAcc3",
    [1000000.2, ...Array.from({ length: 1000 }, (_, i) => (i % 2 === 0 ? 1000000.1 : 1000000.3))],
    1000000.2,
    0.1,
  ],
] as const)("mean and deviation of %s", (_name, values, mean, deviation) => {
  const found = good(summarizeReplicates(values));
  expect(relative(found.mean, mean)).toBeLessThan(1e-15);
  // Ten digits of the values are common to all: 0.1 is stored to 1e-10 of a million.
  expect(relative(found.deviation, deviation)).toBeLessThan(2e-9);
});

/**
 * NIST StRD linear regression "Norris". Data and certified values remembered; the certified digits
 * coming out of the data confirms both.
 */
test("straight line of NIST StRD Norris", () => {
  const x = [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338,
    447.5, 11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2,
    669.1, 448.9, 0.5,
  ];
  const y = [
    0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3,
    448.9, 10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6,
    228.9, 668.4, 449.2, 0.2,
  ];
  const trend = good(trendOf(x.map((value, i) => ({ x: value, y: y[i]! }))));
  expect(relative(trend.slope, 1.00211681802045)).toBeLessThan(1e-13);
  expect(relative(trend.level - trend.slope * trend.meanX, -0.262323073774029)).toBeLessThan(1e-11);
  expect(relative(trend.deviation, 0.884796396144373)).toBeLessThan(1e-12);
  expect(relative(trend.slopeU, 0.000429796848199937)).toBeLessThan(1e-12);
});
