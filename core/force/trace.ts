import type { Setup } from "../exchange/setup.ts";
import type { Assumed } from "../exchange/setup-fields.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { unitNamed } from "../units/units.ts";
import { type ChannelPlan, findChannels } from "./channels.ts";
import { type Clipping, type Extremes, extremesOf, findClipping } from "./clipping.ts";
import type { Role } from "./columns.ts";
import type { ForceFile } from "./force-file.ts";
import type { Gap } from "./moments.ts";
import { findStrays } from "./strays.ts";
import { evenGrid, gridFromTimes, type TimeGrid } from "./time-grid.ts";

/** A force channel on the even grid. */
export type TraceChannel = {
  readonly name: string;
  readonly plan: ChannelPlan;
  /** In the file's own unit, one for each moment; NaN where the record has none. */
  readonly values: Float64Array;
  readonly extremes: Extremes;
  readonly clipping: Clipping;
};

/** The record as sampled: even in time, gaps explicit, nothing filled. */
export type Trace = {
  readonly rate_Hz: number;
  /** Time of the first sample in the file's own clock. */
  readonly start_s: number;
  readonly samples: number;
  readonly gaps: readonly Gap[];
  readonly duplicates: number;
  readonly channels: readonly TraceChannel[];
  readonly lineOf: (row: number) => number;
};

/**
 * Joins a force file with what the setup says about its channels and its rate.
 * @fails every code of `findChannels` and `gridFromTimes`; rate-unknown, rate-contradicts, time-unit-unknown
 */
export function buildTrace(
  file: ForceFile,
  setup: Setup,
  roles: readonly Role[] = file.roles,
): Result<{ trace: Trace; assumed: Assumed; notes: readonly Issue[] }> {
  const assumed: Assumed = {};
  const found = findChannels(file, roles, setup);
  const plans = found.ok ? found.value.channels : [];
  const grid = findGrid(file, roles, setup, plans, assumed);
  if (!found.ok || !grid.ok)
    return failed(...(found.ok ? [] : found.issues), ...(grid.ok ? [] : grid.issues));
  const strayNotes: Issue[] = [];
  const channels = plans.map((plan) => {
    const read = grid.value.uneven
      ? redrawn(plan.column, file.columns[roles.indexOf("time")]!, grid.value)
      : placed(plan.column, grid.value);
    const extremes = extremesOf(read);
    const strays = findStrays(read, extremes);
    const values = withoutStrays(read, strays);
    if (strays.length > 0) strayNotes.push(strayNote(plan, read[strays[0]!]!, strays.length, file));
    const within = strays.length > 0 ? extremesOf(values) : extremes;
    return { name: plan.header.name, plan, values, extremes: within, clipping: findClipping(values, within) };
  });
  const { rate_Hz, start_s, samples, gaps, duplicates, notes } = grid.value;
  return ok({
    trace: { rate_Hz, start_s, samples, gaps, duplicates, channels, lineOf: file.lineOf },
    assumed: { ...found.value.assumed, ...assumed },
    notes: [...notes, ...strayNotes],
  });
}

/** The file's own column stays as it is. */
function withoutStrays(values: Float64Array, strays: readonly number[]): Float64Array {
  if (strays.length === 0) return values;
  const kept = values.slice();
  for (const i of strays) kept[i] = Number.NaN;
  return kept;
}

const strayNote = (plan: ChannelPlan, value: number, count: number, file: ForceFile): Issue =>
  issue(
    "sample-implausible",
    `line ${file.lineOf(Math.max(0, plan.column.indexOf(value)))}, column ${plan.header.number}`,
    `${value} stands far beyond its neighbours in "${plan.header.name}"; ${count} such ${count === 1 ? "sample" : "samples"}`,
    "they count as missing; look at the file there",
  );

/** The setup's rate wins; else the time column; else the rate that a leading line states. */
function findGrid(
  file: ForceFile,
  roles: readonly Role[],
  setup: Setup,
  plans: readonly ChannelPlan[],
  assumed: Assumed,
): Result<TimeGrid> {
  const same = (row: number, other: number) =>
    plans.every(({ column }) => Object.is(column[row], column[other]));
  const index = roles.indexOf("time");
  const count = roles.indexOf("count");
  const stated = file.statedRates;
  const rate_Hz = setup.sampleRate_Hz;
  if (rate_Hz === undefined && index >= 0) {
    const toSI = timeUnit(file, index, assumed);
    return toSI === undefined
      ? failed(unknownTimeUnit(file, index))
      : gridFromTimes(file.columns[index]!, toSI, file.lineOf, same);
  }
  const rate = rate_Hz ?? stated[0]?.rate_Hz;
  if (rate === undefined) {
    return failed(
      issue(
        "rate-unknown",
        "file",
        "there is no time column and no leading line states the sampling rate",
        "state sampleRate_Hz as set on the recorder",
      ),
    );
  }
  const other =
    rate_Hz === undefined ? stated.find((s) => Math.abs(s.rate_Hz - rate) > 1e-3 * rate) : undefined;
  if (other !== undefined) {
    return failed(
      issue(
        "rate-contradicts",
        `line ${other.line}`,
        `it states ${other.rate_Hz} Hz, line ${stated[0]!.line} states ${rate} Hz`,
        "state sampleRate_Hz as set on the recorder",
      ),
    );
  }
  if (rate_Hz === undefined) assumed["sampleRate_Hz"] = rate;
  // Times and counts still tell where samples are missing; the stated rate sets how far apart they are.
  const clock = index >= 0 ? index : count;
  if (clock >= 0) {
    const grid = gridFromTimes(file.columns[clock]!, 1, file.lineOf, same);
    if (grid.ok) {
      const toSI = index >= 0 ? timeUnit(file, index, {}) : undefined;
      const agrees = toSI !== undefined && Math.abs(grid.value.rate_Hz / toSI - rate) < 0.01 * rate;
      return ok({ ...grid.value, rate_Hz: rate, start_s: agrees ? file.columns[index]![0]! * toSI : 0 });
    }
  }
  return ok(evenGrid(rate, 0, file.rows));
}

const unknownTimeUnit = (file: ForceFile, index: number): Issue =>
  issue(
    "time-unit-unknown",
    `column ${index + 1}`,
    `"${file.headers[index]!.name}" names no unit of time, and neither s, ms nor µs gives a rate that a recorder has`,
    "write the unit into the header, or state sampleRate_Hz",
  );

/** The header's unit of time; without one, the first of s, ms, µs that gives a rate recorders have, echoed. */
function timeUnit(file: ForceFile, index: number, assumed: Assumed): number | undefined {
  const unit = file.headers[index]!.unit;
  if (unit?.quantity === "time") return unit.toSI;
  const time = file.columns[index]!;
  const step = Math.abs(time[time.length - 1]! - time[0]!) / (time.length - 1);
  for (const symbol of ["s", "ms", "µs", "ns"]) {
    const { toSI } = unitNamed(symbol)!;
    const rate = 1 / (step * toSI);
    const stated = file.statedRates[0]?.rate_Hz;
    if (stated === undefined ? rate >= 40 && rate <= 2e6 : Math.abs(rate - stated) < 0.02 * stated) {
      assumed["timeUnit"] = symbol;
      return toSI;
    }
  }
  return undefined;
}

function placed(column: Float64Array, grid: TimeGrid): Float64Array {
  if (grid.slots === undefined) return column;
  const values = new Float64Array(grid.samples).fill(Number.NaN);
  for (let row = 0; row < column.length; row++) {
    const slot = grid.slots[row]!;
    if (slot >= 0) values[slot] = column[row]!;
  }
  return values;
}

/** Values of uneven times, drawn straight between the moments they belong to. */
function redrawn(column: Float64Array, time: Float64Array, grid: TimeGrid): Float64Array {
  const values = new Float64Array(grid.samples).fill(Number.NaN);
  const rows = [...column.keys()].filter((row) => grid.slots![row]! >= 0 && Number.isFinite(time[row]!));
  const first = time[rows[0]!]!;
  const step = (time[rows.at(-1)!]! - first) / (grid.samples - 1);
  let k = 0;
  for (let s = 0; s < grid.samples; s++) {
    const t = first + s * step;
    while (k < rows.length - 2 && time[rows[k + 1]!]! < t) k++;
    const [a, b] = [rows[k]!, rows[k + 1]!];
    const span = time[b]! - time[a]!;
    // Two steps apart is jitter, more is a gap that stays one.
    if (span > 2.5 * step) continue;
    const part = span > 0 ? (t - time[a]!) / span : 0;
    values[s] = column[a]! * (1 - part) + column[b]! * part;
  }
  return values;
}
