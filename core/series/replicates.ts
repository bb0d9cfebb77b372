import { failed, issue, ok, type Result } from "../result.ts";
import { coverageFactor } from "../uncertainty/student-t.ts";

/** Like runs: same fill, same pressure, same stand. */
export type ReplicateSummary = {
  readonly count: number;
  readonly mean: number;
  /** Scatter of single runs, n - 1 in its denominator. */
  readonly deviation: number;
  /** Standard uncertainty of the mean from scatter alone: deviation/√count. */
  readonly u: number;
  /** Half the interval that holds the mean with the given part. */
  readonly halfWidth: number;
  readonly part: number;
};

/**
 * Mean of replicates with its t interval. What is common to all of them, such as the calibration,
 * is not in the scatter and must be added from the budget.
 * @param part  coverage, such as 0.95
 * @fails too-few-runs, value-not-finite
 * @source JCGM 100:2008 (GUM) 4.2, G.3; checked in tests/reference/series.reference.test.ts
 */
export function summarizeReplicates(values: readonly number[], part = 0.95): Result<ReplicateSummary> {
  const issues = checkValues(values, 2);
  if (issues.length > 0) return failed(...issues);
  const { mean, deviation } = meanAndDeviation(values);
  const u = deviation / Math.sqrt(values.length);
  const halfWidth = coverageFactor(part, values.length - 1) * u;
  return ok({ count: values.length, mean, deviation, u, halfWidth, part });
}

/** Two passes: the differences are small beside the values, and one pass would lose them. */
export function meanAndDeviation(values: readonly number[]): { mean: number; deviation: number } {
  const rough = values.reduce((sum, value) => sum + value, 0) / values.length;
  // The rough mean's own rounding is what the differences still add up to.
  const mean = rough + values.reduce((sum, value) => sum + (value - rough), 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, deviation: Math.sqrt(squares / (values.length - 1)) };
}

/** @returns issues where there are fewer values than `least`, or one is no number */
export function checkValues(values: readonly number[], least: number) {
  const issues = values.flatMap((value, i) =>
    Number.isFinite(value)
      ? []
      : [
          issue(
            "value-not-finite",
            `values[${i}]`,
            `found ${value}`,
            "leave the run out, or reduce it again",
          ),
        ],
  );
  if (values.length < least) {
    const detail = `${values.length} of at least ${least}`;
    issues.push(issue("too-few-runs", "values", detail, "run the level again: scatter needs repeats"));
  }
  return issues;
}
