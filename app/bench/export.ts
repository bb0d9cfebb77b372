import { version } from "../../package.json";
import { eventsOf } from "./desk-file.ts";
import type { RunFiring } from "./desk-lists.tsx";
import type { DeskRun } from "./run-conditions.ts";
import type { SeriesRow } from "./series-rows.ts";

/** What leaves the bench as tables and data: SI, the names of the terminal's JSON, nothing rounded. */

const seriesColumns = [
  ["run", ({ run }) => asText(run.code)],
  ["opened", ({ run }) => new Date(run.openedAt_ms).toISOString()],
  ["crew", ({ run }) => asText(run.crew ?? "")],
  ["water_kg", ({ setup }) => setup.water_kg],
  ["setPressure_Pa", ({ setup }) => setup.setPressure_Pa],
  ["waterTemperature_C", ({ run }) => run.water_C ?? ""],
  ["supply_Pa", ({ run }) => run.supply_Pa ?? ""],
  ["impulse_Ns", ({ impulse_Ns }) => impulse_Ns],
  ["u_impulse_Ns", ({ u_Ns }) => u_Ns],
  ["expanded95_Ns", ({ event }) => event.budget.expanded],
  ["specificImpulse_s", ({ event }) => event.report.specificImpulse_s],
  ["thrustPeak_N", ({ event }) => event.report.thrustPeak_N],
  ["burn_s", ({ event }) => event.report.burn_s],
  ["endLevelError_N", ({ event }) => event.report.endLevelError_N],
  ["predicted_Ns", ({ predicted_Ns }) => predicted_Ns],
  ["u_predicted_Ns", ({ predictedU_Ns }) => predictedU_Ns],
  ["warnings", ({ event }) => asText(event.report.warnings.join(" "))],
  ["confirmed", ({ confirmed }) => String(confirmed)],
  ["synthetic", ({ run }) => String(run.synthetic)],
] as const satisfies readonly (readonly [string, (row: SeriesRow) => string | number])[];

export function seriesCsv(rows: readonly SeriesRow[]): string {
  const lines = rows.map((row) => seriesColumns.map(([, of]) => of(row)).join(","));
  return `${[seriesColumns.map(([name]) => name).join(","), ...lines].join("\r\n")}\r\n`;
}

/** One run with all it rests on: whoever has the force file and this can compute it again. */
export function runJson(run: DeskRun, firings: readonly RunFiring[]): string {
  const { log, code, documents, entries } = run.stored;
  return `${JSON.stringify(
    {
      format: "fourfast-result",
      version: 1,
      software: `fourfast ${version}`,
      synthetic: run.synthetic,
      run: {
        code,
        log,
        head: entries.at(-1)?.hash,
        rig: documents.rig.id,
        procedure: documents.procedure.id,
      },
      records: firings.map(({ file, event, how }) => {
        const reduced = eventsOf(file)[event];
        const { request } = file.outcome ?? {};
        return {
          file: { name: file.name, sha256: file.digest },
          event,
          confirmed: how === "joined",
          request: request?.ok ? request.value : undefined,
          result: reduced?.report,
          layers: reduced?.layers,
          budget: reduced?.budget,
          moves: file.record.moves.filter((move) => move.event === event),
        };
      }),
    },
    undefined,
    1,
  )}\n`;
}

/** A cell that a table program could take for a formula stays a text; quotes are doubled. */
function asText(cell: string): string {
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
