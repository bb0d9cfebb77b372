import type { Result } from "../../core/result.ts";
import type { ForceReading, ForceReduction, ForceRequest } from "../ports.ts";
import type { BenchRecord, Join } from "./bench-record.ts";
import { codesIn, type Firing, type RecordFile, type Suggestion } from "./matching.ts";
import type { DeskRun } from "./run-conditions.ts";

/** One force file on the desk: what it holds, what people decided about it, what came of it. */
export type DeskFile = {
  readonly digest: string;
  readonly name: string;
  readonly at: number;
  readonly reading: Result<ForceReading>;
  readonly record: BenchRecord;
  readonly outcome: Outcome | undefined;
};

/** The last reduction with every correction on, and what was asked for it. */
export type Outcome = {
  readonly key: string;
  readonly request: Result<ForceRequest>;
  /** Undefined where the request itself was refused. */
  readonly reduction: Result<ForceReduction> | undefined;
};

export const leadingOf = ({ reading }: DeskFile): readonly string[] =>
  reading.ok ? reading.value.layout.leading : [];

export const isSynthetic = (file: DeskFile): boolean =>
  leadingOf(file).some((line) => line.includes("SYNTHETIC"));

export function eventsOf({ outcome }: DeskFile): readonly ForceReduction["events"][number][] {
  return outcome?.reduction?.ok ? outcome.reduction.value.events : [];
}

/** As the matching sees it: the firings that are not joined yet. */
export function openRecord(file: DeskFile): RecordFile {
  const joined = new Set(file.record.joins.map(({ event }) => event));
  const firings = eventsOf(file).flatMap((event, i): Firing[] =>
    joined.has(i)
      ? []
      : [{ file: file.digest, event: i, onset_s: event.onset_s, ...weighed(event.endLevel_N) }],
  );
  return { digest: file.digest, name: file.name, leading: leadingOf(file), written_ms: file.at, firings };
}

const gravity_m_s2 = 9.80665;
/** An end level is good to a few per cent where the discharge time is known, and to less where it is not. */
const weighedRelU = 0.05;

function weighed(endLevel_N: number) {
  const weighed_kg = endLevel_N / gravity_m_s2;
  return weighed_kg > 0 ? { weighed_kg, weighedU_kg: weighedRelU * weighed_kg } : {};
}

export type Place = {
  readonly run: DeskRun;
  readonly how: "joined" | "suggested" | "stands in";
  readonly join?: Join;
};

/**
 * Whose conditions each firing is reduced by: the joined run's, else the suggested one's; where nothing is known yet,
 * a run stands in so that firings can be found at all.
 */
export function placesOf(
  file: DeskFile,
  runs: readonly DeskRun[],
  suggestions: readonly Suggestion[],
): readonly (Place | undefined)[] {
  const byLog = (log: string) => runs.find((run) => run.log === log);
  const count = Math.max(1, eventsOf(file).length, ...file.record.joins.map(({ event }) => event + 1));
  return Array.from({ length: count }, (_, event): Place | undefined => {
    const join = file.record.joins.find((one) => one.event === event);
    const joined = join && byLog(join.log);
    if (join && joined) return { run: joined, how: "joined", join };
    const suggestion = suggestions.find((one) => one.file === file.digest && one.event === event);
    const suggested = suggestion && byLog(suggestion.log);
    if (suggested) return { run: suggested, how: "suggested" };
    const standIn = event === 0 ? standInFor(file, runs) : undefined;
    return standIn && { run: standIn, how: "stands in" };
  });
}

/** The run that the file names, else any whose water and pressure are known: good enough to find a firing by. */
function standInFor(file: DeskFile, runs: readonly DeskRun[]): DeskRun | undefined {
  const codes = [...codesIn(file.name), ...codesIn(leadingOf(file).join("\n"))];
  const usable = runs.filter(({ water_kg, set_Pa }) => water_kg !== undefined && set_Pa !== undefined);
  return usable.find(({ code }) => codes.includes(code)) ?? usable[0];
}
