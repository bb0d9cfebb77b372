import { parseSetup } from "../../core/exchange/setup.ts";
import type { ChannelSetup } from "../../core/exchange/setup-channels.ts";
import { shotOfRun } from "../../core/exchange/setup-of-run.ts";
import type { Correction } from "../../core/force/corrections.ts";
import { ok, type Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { ForceReading, ForceRequest } from "../ports.ts";
import { type BenchRecord, handMarks } from "./bench-record.ts";
import type { DeskRun } from "./run-conditions.ts";

/**
 * How a force file is reduced: its own settings, and for each firing the conditions of the run it is joined to, or
 * those that somebody typed where there is no run file.
 */
export type RequestParts = {
  readonly record: BenchRecord;
  readonly reading: ForceReading;
  /** By place of the firing in the file; the first that is known stands in for the others. */
  readonly runs: readonly (DeskRun | undefined)[];
  readonly off?: readonly Correction[];
};

/**
 * @fails whatever a setup is refused for: a run without its water, a channel named twice
 */
export function forceRequest({ record, reading, runs, off = [] }: RequestParts): Result<ForceRequest> {
  const { settings } = record;
  const first = runs.find((run) => run !== undefined);
  const channels = settings.channels ?? (first && rigChannels(first.stored.documents.rig, reading));
  const parsed = parseSetup(
    {
      ...(first ? shotOf(first) : settings.conditions),
      ...(channels && { channels }),
      ...(settings.sampleRate_Hz !== undefined && { sampleRate_Hz: settings.sampleRate_Hz }),
      calibratedTogether:
        settings.calibratedTogether ?? first?.stored.documents.rig.calibratedTogether ?? true,
      ...(runs.length > 1 && { events: runs.map((run) => (run ? shotOf(run) : {})) }),
    },
    "reduce",
  );
  if (!parsed.ok) return parsed;
  const marks: Record<number, ReturnType<typeof handMarks>> = {};
  for (const { event } of record.moves) marks[event] = handMarks(record.moves, event);
  return ok({
    reading: readOptions(record, first?.stored.documents.rig),
    setup: parsed.value.setup,
    options: {
      assumed: parsed.value.assumed,
      ...(settings.roles && { roles: settings.roles }),
      ...(off.length > 0 && { off }),
      ...(record.moves.length > 0 && { marks }),
    },
  });
}

const shotOf = ({ stored: { documents, entries } }: DeskRun) => shotOfRun({ ...documents, entries });

/** The channels' names help to find the line that holds the names. */
export function readOptions({ settings }: BenchRecord, rig: Rig | undefined): ForceRequest["reading"] {
  const names = rig?.channels.map(({ column }) => column);
  return {
    ...(settings.separator && { separator: settings.separator }),
    ...(settings.decimal && { decimal: settings.decimal }),
    ...(names && { names }),
  };
}

/** The rig's channels where the file has all of their columns; another recorder's file speaks for itself. */
export function rigChannels(rig: Rig, reading: ForceReading): readonly ChannelSetup[] | undefined {
  const headers = reading.headers.flatMap(({ header, name }) => [header, name]);
  if (rig.channels.length === 0 || !rig.channels.every(({ column }) => headers.includes(column)))
    return undefined;
  return rig.channels.map(({ column, unit, sign, dischargeTime_s, sensitivityRelU }) => ({
    column,
    unit,
    sign,
    dischargeTime_s,
    dischargeTimeRelU: givenDischargeRelU,
    sensitivityRelU,
  }));
}

/** A discharge time that the rig states was measured by a step test. DESIGN: the contract's own default. */
const givenDischargeRelU = 0.005;
