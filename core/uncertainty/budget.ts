import { assert } from "../assert.ts";
import { coverageFactor } from "./student-t.ts";

/** One input of a result, as a line of its budget. */
export type Contribution<Source extends string = string> = {
  readonly source: Source;
  /** |∂result/∂input| times the input's standard uncertainty, in the result's unit. */
  readonly u: number;
  /** Infinity for what was given with its uncertainty. */
  readonly freedom: number;
};

/** Correlation of two lines; lines that are not listed are independent. */
export type Correlation = { readonly first: number; readonly second: number; readonly r: number };

export type Budget<Source extends string = string> = {
  readonly contributions: readonly Contribution<Source>[];
  readonly correlations: readonly Correlation[];
  /** Combined standard uncertainty, k = 1. */
  readonly u: number;
  /** Effective degrees of freedom. */
  readonly freedom: number;
  /** Factor for 95 % coverage. */
  readonly k95: number;
  /** Half the 95 % interval. */
  readonly expanded: number;
};

/**
 * Combines the lines of a budget: u² = Σ uᵢ² + 2 Σ rᵢⱼ uᵢ uⱼ, with signed lines where a correlation needs
 * the sign of its sensitivity.
 * @param contributions  u ≥ 0, or signed where it stands in a correlation
 * @source JCGM 100:2008 (GUM) equations 16, G.2b and G.3; examples H.1 and H.2
 *   (tests/reference/uncertainty-gum.reference.test.ts)
 */
export function combine<Source extends string>(
  contributions: readonly Contribution<Source>[],
  correlations: readonly Correlation[] = [],
): Budget<Source> {
  let variance = 0;
  for (const { u } of contributions) variance += u * u;
  for (const { first, second, r } of correlations) {
    assert(Math.abs(r) <= 1 + 1e-9 && first !== second, "a correlation lies within ±1 and joins two lines");
    variance += 2 * r * contributions[first]!.u * contributions[second]!.u;
  }
  const u = Math.sqrt(Math.max(0, variance));
  const freedom = effectiveFreedom(u, contributions);
  const k95 = coverageFactor(0.95, freedom);
  return { contributions, correlations, u, freedom, k95, expanded: k95 * u };
}

/**
 * Welch and Satterthwaite: ν = u⁴ / Σ uᵢ⁴/νᵢ.
 * @source JCGM 100:2008 (GUM) equation G.2b; truncated to a whole number by its note
 */
export function effectiveFreedom(u: number, contributions: readonly Contribution[]): number {
  const sum = contributions.reduce((total, line) => total + line.u ** 4 / line.freedom, 0);
  if (!(sum > 0)) return Number.POSITIVE_INFINITY;
  const freedom = u ** 4 / sum;
  return freedom > 1e6 ? Number.POSITIVE_INFINITY : Math.max(1, Math.floor(freedom));
}

/** Largest correlation a covariance may claim, against rounding. */
export const correlationOf = (covariance: number, u1: number, u2: number): number =>
  u1 > 0 && u2 > 0 ? Math.max(-1, Math.min(1, covariance / (u1 * u2))) : 0;
