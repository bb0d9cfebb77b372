import { describe, expect, test } from "vitest";
import { combine, correlationOf, effectiveFreedom } from "../../../core/uncertainty/budget.ts";

const line = (source: string, u: number, freedom = Number.POSITIVE_INFINITY) => ({ source, u, freedom });

describe("a budget", () => {
  test("adds independent lines in quadrature", () => {
    const budget = combine([line("a", 3), line("b", 4)]);
    expect([budget.u, budget.freedom]).toEqual([5, Number.POSITIVE_INFINITY]);
    expect(budget.expanded).toBeCloseTo(5 * 1.959964, 5);
  });

  test("adds fully correlated lines up, and takes opposed ones from one another", () => {
    expect(combine([line("a", 3), line("b", 4)], [{ first: 0, second: 1, r: 1 }]).u).toBeCloseTo(7, 12);
    expect(combine([line("a", 3), line("b", 4)], [{ first: 0, second: 1, r: -1 }]).u).toBeCloseTo(1, 12);
    expect(combine([line("a", 3), line("b", -4)], [{ first: 0, second: 1, r: 1 }]).u).toBeCloseTo(1, 12);
  });

  test("of nothing is certain", () => expect(combine([]).u).toBe(0));

  test("refuses a correlation that cannot be", () => {
    expect(() => combine([line("a", 1), line("b", 1)], [{ first: 0, second: 1, r: 1.2 }])).toThrow(
      "correlation",
    );
    expect(() => combine([line("a", 1)], [{ first: 0, second: 0, r: 0.5 }])).toThrow("correlation");
  });

  test("has no more degrees of freedom than its lines together, and at least one", () => {
    expect(effectiveFreedom(5, [line("a", 3, 8), line("b", 4, 8)])).toBe(14);
    expect(effectiveFreedom(1, [line("a", 1, 0.5)])).toBe(1);
    expect(effectiveFreedom(1, [line("a", 1)])).toBe(Number.POSITIVE_INFINITY);
  });

  test("takes a correlation from a covariance, bounded against rounding", () => {
    expect(correlationOf(0.5, 1, 2)).toBe(0.25);
    expect(correlationOf(2.0000001, 1, 2)).toBe(1);
    expect(correlationOf(1, 0, 2)).toBe(0);
  });
});
