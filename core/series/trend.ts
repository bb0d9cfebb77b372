import { failed, issue, ok, type Result } from "../result.ts";
import { betaPart, coverageFactor } from "../uncertainty/student-t.ts";
import { checkValues, meanAndDeviation } from "./replicates.ts";

/** A result beside what it may follow: order of the day, time, supply pressure, water temperature. */
export type TrendPoint = { readonly x: number; readonly y: number };

export type Trend = {
  /** Change of y for each unit of x. */
  readonly slope: number;
  readonly slopeU: number;
  /** Half of the slope's 95 % interval. */
  readonly slopeHalfWidth95: number;
  /** y at the mean of x: the part that does not depend on the slope. */
  readonly level: number;
  readonly meanX: number;
  /** Scatter about the line, n - 2 in its denominator. */
  readonly deviation: number;
  /** Change of y over the range of x that was run. */
  readonly change: number;
  /** Chance of so steep a line when y does not follow x at all. */
  readonly p: number;
};

/**
 * Straight line through results over the day. To see drift apart from fill and pressure, y is the
 * measured over the predicted value for each run's own conditions. Several trends tried on the
 * same runs each have their own 5 % of false alarms.
 * @fails too-few-runs, value-not-finite, no-spread
 * @source ordinary least squares; checked in tests/reference/series.reference.test.ts
 */
export function trendOf(points: readonly TrendPoint[]): Result<Trend> {
  const issues = checkValues(
    points.map(({ x, y }) => (Number.isFinite(x) ? y : x)),
    3,
  );
  if (issues.length > 0) return failed(...issues);
  const meanX = meanAndDeviation(points.map(({ x }) => x)).mean;
  const level = meanAndDeviation(points.map(({ y }) => y)).mean;
  const spread = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  if (spread === 0) {
    const remedy = "choose something that was not the same in all of them";
    return failed(issue("no-spread", "x", "all runs have the same value", remedy));
  }
  const slope = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - level), 0) / spread;
  const freedom = points.length - 2;
  const squares = points.reduce((sum, { x, y }) => sum + (y - level - slope * (x - meanX)) ** 2, 0);
  const deviation = Math.sqrt(squares / freedom);
  const slopeU = deviation / Math.sqrt(spread);
  const xs = points.map(({ x }) => x);
  return ok({
    slope,
    slopeU,
    slopeHalfWidth95: coverageFactor(0.95, freedom) * slopeU,
    level,
    meanX,
    deviation,
    change: slope * (Math.max(...xs) - Math.min(...xs)),
    p:
      slopeU > 0
        ? betaPart(freedom / (freedom + (slope / slopeU) ** 2), freedom / 2, 0.5)
        : slope === 0
          ? 1
          : 0,
  });
}
