import betainc from "@stdlib/math-base-special-betainc";
import { describe, expect, test } from "vitest";
import { betaPart, coverageFactor, logGamma } from "../../core/uncertainty/student-t.ts";

describe("Student t, two-sided", () => {
  /** NIST/SEMATECH e-Handbook, critical values of Student's t; as the brief's table 12 gives them (read there). */
  test.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [4, 2.776],
    [5, 2.571],
    [6, 2.447],
    [7, 2.365],
    [8, 2.306],
    [9, 2.262],
    [10, 2.228],
    [20, 2.086],
    [Number.POSITIVE_INFINITY, 1.96],
  ])("95 %% with %d degrees of freedom, NIST/SEMATECH", (freedom, factor) => {
    expect(coverageFactor(0.95, freedom)).toBeCloseTo(factor, 2);
    expect(Math.abs(coverageFactor(0.95, freedom) - factor)).toBeLessThan(6e-4);
  });

  /** JCGM 100:2008 (GUM), table G.2; as the brief's table 12 gives them (read there). */
  test.each([
    [1, 13.97],
    [2, 4.53],
    [3, 3.31],
    [4, 2.87],
    [5, 2.65],
    [6, 2.52],
    [7, 2.43],
    [8, 2.37],
    [9, 2.32],
    [10, 2.28],
  ])("95.45 %% with %d degrees of freedom, GUM table G.2", (freedom, factor) => {
    expect(Math.abs(coverageFactor(0.9545, freedom) - factor)).toBeLessThan(6e-3);
  });

  /** JCGM 100:2008 (GUM), table G.2, other columns; remembered. */
  test.each([
    [0.99, 16, 2.92],
    [0.99, 1, 63.66],
    [0.6827, 1, 1.84],
    [0.9973, 10, 3.96],
    [0.9, 5, 2.02],
  ])("%d with %d degrees of freedom, GUM table G.2", (part, freedom, factor) => {
    expect(Math.abs(coverageFactor(part, freedom) - factor)).toBeLessThan(6e-3);
  });
});

describe("special functions", () => {
  test("the incomplete beta agrees with a general-purpose library (@stdlib, recomputed here) to 1e-12", () => {
    for (const x of [1e-6, 0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999999]) {
      for (const a of [0.5, 1, 2.5, 8, 40, 400]) {
        for (const b of [0.5, 1, 3, 25])
          expect(Math.abs(betaPart(x, a, b) - betainc(x, a, b))).toBeLessThan(1e-12);
      }
    }
  });

  test("log gamma has the closed values of Γ(1/2), Γ(1), Γ(5) and Γ(10.5)", () => {
    const half = Math.sqrt(Math.PI);
    expect(logGamma(0.5)).toBeCloseTo(Math.log(half), 14);
    expect(logGamma(1)).toBeCloseTo(0, 14);
    expect(logGamma(5)).toBeCloseTo(Math.log(24), 13);
    // Γ(10.5) = 19!! / 2^10 √π, 19!! = 654729075.
    expect(logGamma(10.5)).toBeCloseTo(Math.log((654_729_075 / 1024) * half), 12);
  });
});
