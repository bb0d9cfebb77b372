import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { claimMoments, type Gap, gapsBetween, notesOn } from "./moments.ts";

/** Even sampling, with what the file has at each moment. */
export type TimeGrid = {
  readonly rate_Hz: number;
  readonly start_s: number;
  /** Moments from first to last, those without a sample counted. */
  readonly samples: number;
  /** For each row the moment it belongs to, -1 for a row not used; absent where row i is moment i. */
  readonly slots?: Int32Array;
  /** Runs of moments without a sample. */
  readonly gaps: readonly Gap[];
  readonly duplicates: number;
  /** Times that wander from an even grid: values are then drawn straight between their own moments. */
  readonly uneven: boolean;
  readonly notes: readonly Issue[];
};

/** Beyond this part of a step a time is off the grid, not just rounded in print. */
const offGrid = 0.3;

export const evenGrid = (rate_Hz: number, start_s: number, rows: number): TimeGrid => ({
  rate_Hz,
  start_s,
  samples: rows,
  gaps: [],
  duplicates: 0,
  uneven: false,
  notes: [],
});

/**
 * Puts rows on an even grid by their times: gaps, doubled rows and rows out of order come out.
 * @param time  as in the file, NaN where the cell holds none
 * @param toSI  seconds in one unit of it
 * @param same  whether two rows hold the same forces
 * @fails time-unusable, time-jumps, time-runs-back
 */
export function gridFromTimes(
  time: Float64Array,
  toSI: number,
  lineOf: (row: number) => number,
  same: (row: number, other: number) => boolean,
): Result<TimeGrid> {
  const n = time.length;
  const mean = (time[n - 1]! - time[0]!) / (n - 1);
  if (mean > 0 && isEven(time, mean)) return ok(evenGrid(1 / (mean * toSI), time[0]! * toSI, n));

  const steps = positiveSteps(time);
  if (steps.length < 2) {
    return failed(
      issue(
        "time-unusable",
        `line ${lineOf(0)}`,
        "the times do not increase",
        "correct which column is the time, or state the sampling rate",
      ),
    );
  }
  const median = steps[steps.length >> 1]!;
  const coarse = coarseStamps(time, same, steps[0]!, median);
  return coarse === undefined
    ? place(time, toSI, median, lineOf, same)
    : ok(evenGrid(1 / (coarse * toSI), time[0]! * toSI, n));
}

function isEven(time: Float64Array, step: number): boolean {
  const start = time[0]!;
  const slack = offGrid * step;
  for (let i = 0; i < time.length; i++) {
    const off = time[i]! - (start + i * step);
    if (!(off < slack && off > -slack)) return false;
  }
  return true;
}

function positiveSteps(time: Float64Array): Float64Array {
  const stride = Math.max(1, Math.floor(time.length / 50_000));
  const steps: number[] = [];
  for (let i = 1; i < time.length; i += stride) {
    const step = time[i]! - time[i - 1]!;
    if (step > 0 && Number.isFinite(step)) steps.push(step);
  }
  return Float64Array.from(steps).sort();
}

/**
 * Times printed with too few digits repeat over rows that differ: then the rows are even and only the
 * print is coarse. @returns the mean step, or undefined where the times are fine enough
 */
function coarseStamps(
  time: Float64Array,
  same: (row: number, other: number) => boolean,
  least: number,
  median: number,
): number | undefined {
  const n = time.length;
  let repeated = 0;
  for (let i = 1; i < n; i++) if (time[i] === time[i - 1] && !same(i, i - 1)) repeated++;
  if (repeated < 0.2 * n || least < 0.5 * median) return undefined;
  const step = (time[n - 1]! - time[0]!) / (n - 1);
  for (let i = 1; i < n; i++) {
    const jump = time[i]! - time[i - 1]!;
    if (!(jump >= 0 && jump <= 3 * least + 3 * step)) return undefined;
  }
  return step;
}

function place(
  time: Float64Array,
  toSI: number,
  median: number,
  lineOf: (row: number) => number,
  same: (row: number, other: number) => boolean,
): Result<TimeGrid> {
  // Twice: the first round finds how many steps the record has, the second uses their mean length.
  const rough = walk(time, median);
  const found = rough.jump === undefined ? walk(time, rough.meanStep) : rough;
  if (found.jump !== undefined) {
    return failed(
      issue(
        "time-jumps",
        `line ${lineOf(found.jump)}`,
        `the time jumps by ${(time[found.jump]! - time[found.jump - 1]!) * toSI} s`,
        "cut the file there: one record each, without the pause between them",
      ),
    );
  }
  if (found.backCount > 0.02 * time.length + 5) {
    return failed(
      issue(
        "time-runs-back",
        `line ${lineOf(found.backRow)}`,
        `the time runs back, ${found.backCount} rows in all`,
        "cut the file where the time starts again: one record each",
      ),
    );
  }
  const uneven = found.offCount > 0.02 * time.length;
  const walked = uneven ? scatter(time) : found;
  return ok(settle(time, toSI, walked, uneven, lineOf, same));
}

type Walk = {
  readonly slots: Int32Array;
  readonly samples: number;
  readonly meanStep: number;
  readonly offCount: number;
  readonly backRow: number;
  readonly backCount: number;
  /** Row after a pause that no record has. */
  readonly jump?: number;
};

/** Counts steps from row to row, so that a clock that is a little fast does not add up. */
function walk(time: Float64Array, step: number): Walk {
  const n = time.length;
  const slots = new Int32Array(n).fill(-1);
  const first = firstFinite(time);
  let last = -1;
  let lastTime = first;
  let offCount = 0;
  let backRow = 0;
  let backCount = 0;
  for (let i = 0; i < n; i++) {
    const t = time[i]!;
    if (!Number.isFinite(t)) continue;
    const since = last < 0 ? 1 : (t - lastTime) / step;
    const whole = Math.round(since);
    if (Math.abs(since - whole) > offGrid) offCount++;
    if (last + whole > 4 * n + 100_000) {
      return { slots, samples: last + 1, meanStep: step, offCount, backRow, backCount, jump: i };
    }
    if (last + whole >= 0) slots[i] = last + whole;
    if (whole > 0) {
      last += whole;
      lastTime = t;
    } else if (whole < -1 || last + whole < 0) {
      if (backCount++ === 0) backRow = i;
    }
  }
  const meanStep = last > 0 ? (lastTime - first) / last : step;
  return { slots, samples: last + 1, meanStep, offCount, backRow, backCount };
}

/** Where a clock wanders by whole steps, rows are counted by the mean step alone. */
function scatter(time: Float64Array): Walk {
  const finite = time.filter((t) => Number.isFinite(t));
  const first = finite[0]!;
  const meanStep = (finite[finite.length - 1]! - first) / (finite.length - 1);
  const slots = Int32Array.from(time, (t) =>
    Number.isFinite(t) ? Math.max(0, Math.round((t - first) / meanStep)) : -1,
  );
  return { slots, samples: finite.length, meanStep, offCount: 0, backRow: 0, backCount: 0 };
}

const firstFinite = (time: Float64Array): number => time.find((t) => Number.isFinite(t)) ?? 0;

/** Rows on the moments of the grid, then what that leaves open: moments without a row, rows of no use. */
function settle(
  time: Float64Array,
  toSI: number,
  { slots, samples, meanStep }: Walk,
  uneven: boolean,
  lineOf: (row: number) => number,
  same: (row: number, other: number) => boolean,
): TimeGrid {
  const claims = claimMoments(time, slots, samples, uneven, same);
  return {
    rate_Hz: 1 / (meanStep * toSI),
    start_s: firstFinite(time) * toSI,
    samples,
    slots,
    gaps: gapsBetween(claims.owner, uneven),
    duplicates: claims.duplicates,
    uneven,
    notes: notesOn(claims, uneven, lineOf),
  };
}
