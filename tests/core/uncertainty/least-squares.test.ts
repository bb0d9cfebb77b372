import { describe, expect, test } from "vitest";
import { leastSquares } from "../../../core/uncertainty/least-squares.ts";

describe("least squares", () => {
  test("goes through points that lie on a line, and says how well it knows it", () => {
    const x = [0, 1, 2, 3];
    const fit = leastSquares(
      Float64Array.from(x.flatMap((v) => [1, v])),
      Float64Array.from(x, (v) => 2 + 3 * v),
      2,
    );
    expect([...fit.parameters].map((p) => Number(p.toFixed(12)))).toEqual([2, 3]);
    expect([fit.freedom, fit.determined]).toEqual([2, true]);
    expect(fit.squares).toBeLessThan(1e-24);
    // (XᵀX)⁻¹ of that design is [[0.7, −0.3], [−0.3, 0.2]].
    for (const [i, expected] of [0.7, -0.3, -0.3, 0.2].entries())
      expect(fit.inverse[i]).toBeCloseTo(expected, 12);
  });

  test("says when the rows do not determine the parameters", () => {
    const same = Float64Array.from([1, 2, 1, 2, 1, 2]);
    expect(leastSquares(same, Float64Array.of(1, 2, 3), 2).determined).toBe(false);
    expect(leastSquares(Float64Array.of(1, 2), Float64Array.of(1), 2).determined).toBe(false);
    expect(leastSquares(Float64Array.of(Number.NaN, 1, 1, 1), Float64Array.of(1, 1), 2).determined).toBe(
      false,
    );
  });

  test("takes what is known beforehand as a row like any other", () => {
    const design = Float64Array.of(1, 0.1);
    const fit = leastSquares(design, Float64Array.of(10, 0.1 * 20), 1);
    // One reading of 10 with u = 1 and a prior of 20 with u = 10.
    expect(fit.parameters[0]).toBeCloseTo((10 / 1 + 20 / 100) / (1 + 1 / 100), 12);
  });

  test("leaves its input as it was", () => {
    const design = Float64Array.of(1, 2, 3, 5);
    const observed = Float64Array.of(1, 2);
    leastSquares(design, observed, 2);
    expect([[...design], [...observed]]).toEqual([
      [1, 2, 3, 5],
      [1, 2],
    ]);
  });
});
