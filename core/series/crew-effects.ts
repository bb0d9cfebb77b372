import { failed, issue, ok, type Result } from "../result.ts";
import { betaPart } from "../uncertainty/student-t.ts";
import { checkValues, meanAndDeviation } from "./replicates.ts";

export type CrewResults = { readonly crew: string; readonly values: readonly number[] };

/** Terms of ISO 5725-1: a crew stands where the standard has a laboratory. */
export type Precision = {
  readonly mean: number;
  readonly runs: number;
  readonly crews: number;
  /** s_r: scatter of one crew's like runs. */
  readonly repeatability: number;
  /** s_L: scatter of the crews' own means, their runs' scatter taken off. */
  readonly betweenCrews: number;
  /** s_R = √(s_r² + s_L²): scatter of single runs of any crews. */
  readonly reproducibility: number;
  /** r = 2.8 s_r: two runs of one crew differ by less in 95 of 100 cases. */
  readonly repeatabilityLimit: number;
  /** R = 2.8 s_R: two runs of two crews. */
  readonly reproducibilityLimit: number;
  readonly between: MeanSquare;
  readonly within: MeanSquare;
  /** Chance of so large a between-crew scatter when crews do not differ at all. */
  readonly p: number;
  /**
   * The crews' means scatter less than their runs' scatter alone would make them: the estimate of
   * s_L² came out below zero and stands as 0, as the standard has it.
   */
  readonly betweenBelowZero: boolean;
};

export type MeanSquare = { readonly squares: number; readonly freedom: number; readonly mean: number };

/** 1.96 √2 rounded as in ISO 5725-6:1994, 4.1.4. */
const limitFactor = 2.8;

/**
 * Repeatability and reproducibility from one level run by several crews: one-way analysis of
 * variance with random crews. Assumes that crews are alike in scatter and that runs are
 * independent and roughly normal; look at the outliers first.
 * @fails too-few-crews, too-few-runs (no crew repeated), value-not-finite, crew-repeated
 * @source ISO 5725-2:1994, 7.4.5 (remembered); checked in tests/reference/series.reference.test.ts
 */
export function precisionOf(groups: readonly CrewResults[]): Result<Precision> {
  const issues = checkGroups(groups);
  if (issues.length > 0) return failed(...issues);
  const all = groups.flatMap((group) => group.values);
  const { mean } = meanAndDeviation(all);
  const means = groups.map((group) => meanAndDeviation(group.values).mean);
  const between = meanSquare(
    groups.reduce((sum, group, i) => sum + group.values.length * (means[i]! - mean) ** 2, 0),
    groups.length - 1,
  );
  const within = meanSquare(
    groups.reduce(
      (sum, group, i) => sum + group.values.reduce((s, value) => s + (value - means[i]!) ** 2, 0),
      0,
    ),
    all.length - groups.length,
  );
  // n̄ of the standard: the runs of a crew where all have as many, a little less where they do not.
  const squaredCounts = groups.reduce((sum, group) => sum + group.values.length ** 2, 0);
  const runsPerCrew = (all.length - squaredCounts / all.length) / (groups.length - 1);
  const betweenVariance = (between.mean - within.mean) / runsPerCrew;
  const repeatability = Math.sqrt(within.mean);
  const betweenCrews = Math.sqrt(Math.max(0, betweenVariance));
  const reproducibility = Math.hypot(repeatability, betweenCrews);
  return ok({
    mean,
    runs: all.length,
    crews: groups.length,
    repeatability,
    betweenCrews,
    reproducibility,
    repeatabilityLimit: limitFactor * repeatability,
    reproducibilityLimit: limitFactor * reproducibility,
    between,
    within,
    p: chanceOfRatio(between, within),
    betweenBelowZero: betweenVariance < 0,
  });
}

const meanSquare = (squares: number, freedom: number): MeanSquare => ({
  squares,
  freedom,
  mean: squares / freedom,
});

/** Upper tail of F = between/within. Runs without any scatter make any difference certain. */
function chanceOfRatio(between: MeanSquare, within: MeanSquare): number {
  if (within.mean === 0) return between.mean === 0 ? 1 : 0;
  const ratio = between.mean / within.mean;
  return betaPart(
    within.freedom / (within.freedom + between.freedom * ratio),
    within.freedom / 2,
    between.freedom / 2,
  );
}

function checkGroups(groups: readonly CrewResults[]) {
  const issues = groups.flatMap(({ crew, values }, i) => [
    ...checkValues(values, 1).map((one) => ({ ...one, where: `${crew}.${one.where}` })),
    ...(groups.findIndex((other) => other.crew === crew) === i
      ? []
      : [issue("crew-repeated", crew, `${crew} is there twice`, "put a crew's runs together")]),
  ]);
  if (groups.length < 2) {
    const remedy = "have another crew run the level; until then only repeatability can be said";
    issues.push(issue("too-few-crews", "crews", `${groups.length} of at least 2`, remedy));
  }
  if (groups.length >= 2 && groups.every(({ values }) => values.length < 2)) {
    const remedy = "have at least one crew run the level twice";
    issues.push(issue("too-few-runs", "crews", "no crew has run the level twice", remedy));
  }
  return issues;
}
