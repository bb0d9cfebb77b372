import { assert } from "../../core/assert.ts";
import type { RunFile } from "../../core/exchange/run-file.ts";
import { reviewRun } from "../../core/review/review-run.ts";
import { readRun } from "./read-run.ts";
import type { ExitCode, Io } from "./verb.ts";

export const exportHelp = `Writes runs as tables that any spreadsheet reads: entries, readings, findings.

  fourfast export RUNFILE... --to FOLDER

  --to FOLDER   made if it is not there; a file that is there already is written over
  --help        this text

For each run: RUN-entries.csv, RUN-readings.csv and RUN-findings.csv. A text that a spreadsheet would
take for a formula gets an apostrophe before it.

Example

  fourfast export H-329-04.txt --to tables

Exit code: 0 written, 1 a run file is at fault (nothing of it is written), 2 wrong usage.
`;

/** A text that a spreadsheet would run is disarmed; quotes and commas are kept. */
const cell = (value: string | number): string => {
  if (typeof value === "number") return String(value);
  const harmless = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\n\r]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
};

const csv = (rows: readonly (readonly (string | number)[])[]): string =>
  rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");

const entriesTable = ({ entries }: RunFile): string =>
  csv([
    ["seq", "at_ms", "mono_100us", "session", "device", "by", "event", "details", "hash"],
    ...entries.map(({ seq, at, mono, session, device, by, event, hash }) => {
      const { type, ...details } = event;
      return [seq, at, mono, session, device, by, type, JSON.stringify(details), hash];
    }),
  ]);

const readingsTable = ({ entries }: RunFile): string =>
  csv([
    ["seq", "step_or_gauge", "typed", "tare_or_temperature", "unit", "instrument"],
    ...entries.flatMap(({ seq, event }) => {
      if (event.type !== "step-done" && event.type !== "gauge-read") return [];
      const { reading } = event;
      if (reading === undefined) return [];
      const of = event.type === "step-done" ? event.step : event.gauge;
      const typed = reading.kind === "difference" ? reading.gross : reading.typed;
      const second =
        reading.kind === "difference" ? reading.tare : reading.kind === "volume" ? reading.temperature : "";
      return [[seq, of, typed, second, reading.unit, reading.instrument]];
    }),
  ]);

const findingsTable = ({ rig, procedure, entries }: RunFile): string =>
  csv([
    ["weight", "kind", "entries", "words", "detail"],
    ...reviewRun(rig, procedure, entries).findings.map(({ weight, kind, seqs, words, detail }) => [
      weight,
      kind,
      seqs.join(" "),
      words,
      detail,
    ]),
  ]);

/** `fourfast export`: @param args  what follows the verb */
export async function exportVerb(args: readonly string[], io: Io): Promise<ExitCode> {
  const at = args.indexOf("--to");
  const folder = at < 0 ? undefined : args[at + 1];
  const paths = args.filter((_, i) => at < 0 || (i !== at && i !== at + 1));
  if (folder === undefined || paths.length === 0 || paths.some((path) => path.startsWith("--"))) {
    io.err(`give run files and --to FOLDER\n\n${exportHelp}`);
    return 2;
  }
  const { writeFile } = io;
  assert(writeFile, "the terminal can write");
  let faulty = false;
  for (const path of paths) {
    const run = await readRun(path, io);
    if (!run.ok) {
      faulty = true;
      for (const { where, detail, remedy, code } of run.issues)
        io.err(`${code} at ${where}: ${detail}; ${remedy}\n`);
      continue;
    }
    const name = run.value.run;
    await writeFile(`${folder}/${name}-entries.csv`, entriesTable(run.value));
    await writeFile(`${folder}/${name}-readings.csv`, readingsTable(run.value));
    await writeFile(`${folder}/${name}-findings.csv`, findingsTable(run.value));
    io.out(`${name}: three tables in ${folder}\n`);
  }
  return faulty ? 1 : 0;
}
