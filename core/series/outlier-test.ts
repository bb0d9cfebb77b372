import { failed, ok, type Result } from "../result.ts";
import { coverageFactor } from "../uncertainty/student-t.ts";
import { checkValues, meanAndDeviation } from "./replicates.ts";

export type OutlierTest = {
  readonly test: "Grubbs, two-sided, one value";
  /** What must hold for the answer to mean anything; shown beside it. */
  readonly assumptions: readonly string[];
  /** Index of the value farthest from the mean. */
  readonly suspect: number;
  /** Its distance from the mean over the deviation of all values. */
  readonly statistic: number;
  readonly critical: number;
  readonly significance: number;
  readonly isOutlier: boolean;
};

/** Below this the test can hardly find anything; NIST/SEMATECH e-Handbook 1.3.5.17.1 warns the same. */
const leastRuns = 3;

/**
 * Asks whether the value farthest from the mean is too far for its company. It never removes
 * anything: a run is left out for a cause found in its record, not for its value.
 * @param significance  chance of accusing an innocent value, such as 0.05
 * @fails too-few-runs, value-not-finite
 * @source Grubbs, Technometrics 11 (1969) 1; NIST/SEMATECH e-Handbook 1.3.5.17.1; ISO 5725-2:1994, 7.3.4;
 *   checked in tests/reference/series.reference.test.ts
 */
export function outlierTest(values: readonly number[], significance = 0.05): Result<OutlierTest> {
  const issues = checkValues(values, leastRuns);
  if (issues.length > 0) return failed(...issues);
  const { mean, deviation } = meanAndDeviation(values);
  const distances = values.map((value) => Math.abs(value - mean));
  const suspect = distances.indexOf(Math.max(...distances));
  const statistic = deviation > 0 ? distances[suspect]! / deviation : 0;
  const critical = criticalValue(values.length, significance / (2 * values.length));
  return ok({
    test: "Grubbs, two-sided, one value",
    assumptions: [
      "the other values come from one normal distribution",
      "at most one value is out: two that agree hide each other",
      "the runs are of one level, the crews alike in scatter",
      ...(values.length < 7 ? ["fewer than seven values: the test sees only gross faults"] : []),
    ],
    suspect,
    statistic,
    critical,
    significance,
    isOutlier: statistic > critical,
  });
}

/**
 * Largest distance over deviation that chance allows.
 * @param tail  probability of the upper tail for a single value: significance/n one-sided, /(2 n) two-sided
 */
export function criticalValue(count: number, tail: number): number {
  const t = coverageFactor(1 - 2 * tail, count - 2);
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt((t * t) / (count - 2 + t * t));
}
