import { parseSetup, type Setup } from "../../core/exchange/setup.ts";
import type { Assumed } from "../../core/exchange/setup-fields.ts";
import { setupOfRun } from "../../core/exchange/setup-of-run.ts";
import { readForceFile } from "../../core/force/force-file.ts";
import { type Reduction, reduce } from "../../core/force/reduce.ts";
import { reductionReport } from "../../core/force/report.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import { readJsonFile } from "./read-json.ts";
import { readRun } from "./read-run.ts";
import { reductionTable } from "./reduce-table.ts";
import type { ExitCode, Io } from "./verb.ts";

export const reduceHelp = `Turns a force file into impulse, specific impulse and what they are worth.

  fourfast reduce FILE (--setup S.json | --run RUNFILE) [--json]

  FILE           the recorder's text file: any separator, decimal comma or point, headers, comments
  --setup FILE   the conditions of the shot and what is known of the channels, as JSON
  --run FILE     the run file instead, which holds the conditions and the rig
  --json         one JSON object on standard output instead of the table
  --help         this text

"-" in place of a file reads standard input. Smallest S.json (SI units):

  {"water_kg": 0.6, "setPressure_Pa": 300000, "bottleVolume_m3": 0.0015, "openingDiameter_m": 0.0217}

It may also hold, beside what predict takes: channels [{column, unit, sign, dischargeTime_s,
dischargeTimeRelU, sensitivityRelU}], sampleRate_Hz, calibratedTogether, stopperHeld, and events,
one object of what differs for each shot in the file. What is left out is assumed and listed.

Examples

  fourfast reduce heron-07.csv --setup heron.json
  fourfast reduce heron-07.csv --run H07.run --json > result.json

Exit code: 0 fine, 1 the input is at fault or holds no shot (every issue is listed), 2 wrong usage.
`;

/**
 * `fourfast reduce`: reads a force file under the conditions of a setup or a run, prints what it holds.
 * @param args  what follows the verb
 */
export async function reduceVerb(args: readonly string[], io: Io): Promise<ExitCode> {
  const usage = readArguments(args);
  if (typeof usage === "string") {
    io.err(`${usage}\n\n${reduceHelp}`);
    return 2;
  }
  const conditions =
    usage.from === "setup"
      ? await readSetup(usage.conditions, io)
      : await readConditionsOfRun(usage.conditions, io);
  const bytes = await readBytes(usage.file, io);
  const result = joined(conditions, bytes);
  if (!result.ok) {
    if (usage.json) io.out(`${JSON.stringify({ events: [], issues: result.issues }, null, 2)}\n`);
    sayIssues(result.issues, io);
    return 1;
  }
  const reduction = result.value;
  if (usage.json) io.out(`${JSON.stringify(reductionReport(reduction), null, 2)}\n`);
  else io.out(reductionTable(reduction));
  sayIssues(reduction.issues, io);
  return reduction.events.length === 0 || reduction.refused > 0 ? 1 : 0;
}

function joined(
  conditions: Result<{ setup: Setup; assumed: Assumed }>,
  bytes: Result<Uint8Array>,
): Result<Reduction> {
  if (!conditions.ok || !bytes.ok) {
    return failed(...(conditions.ok ? [] : conditions.issues), ...(bytes.ok ? [] : bytes.issues));
  }
  const { setup, assumed } = conditions.value;
  const names = (setup.channels ?? []).flatMap(({ column }) => (typeof column === "string" ? [column] : []));
  const file = readForceFile(bytes.value, { names });
  return file.ok ? reduce(file.value, setup, { assumed }) : file;
}

async function readSetup(path: string, io: Io): Promise<Result<{ setup: Setup; assumed: Assumed }>> {
  const json = await readJsonFile(path, io);
  return json.ok ? parseSetup(json.value, "reduce") : json;
}

async function readConditionsOfRun(
  path: string,
  io: Io,
): Promise<Result<{ setup: Setup; assumed: Assumed }>> {
  const run = await readRun(path, io);
  return run.ok ? parseSetup(setupOfRun(run.value), "reduce") : run;
}

async function readBytes(path: string, io: Io): Promise<Result<Uint8Array>> {
  try {
    return ok(await io.readFile(path));
  } catch (error) {
    const remedy = "look at the path, and whether the file may be read";
    return failed(issue("file-unreadable", path, String((error as Error).message), remedy));
  }
}

function sayIssues(issues: readonly Issue[], io: Io) {
  for (const one of issues) io.err(`${one.code} at ${one.where}: ${one.detail}; ${one.remedy}\n`);
}

type Usage = {
  readonly file: string;
  readonly from: "setup" | "run";
  readonly conditions: string;
  readonly json: boolean;
};

function readArguments(args: readonly string[]): Usage | string {
  const given = new Map<"setup" | "run", string>();
  const files: string[] = [];
  let json = false;
  for (let i = 0; i < args.length; i++) {
    const arg = args[i]!;
    const flag = /^--(setup|run)(?:=(.*))?$/.exec(arg);
    if (arg === "--json") json = true;
    else if (flag !== null) {
      const name = flag[1] as "setup" | "run";
      if (given.has(name)) return `--${name} is given twice`;
      const value = flag[2] ?? args[++i];
      if (value === undefined || value === "") return `--${name} needs a file`;
      given.set(name, value);
    } else if (arg.startsWith("-") && arg !== "-") return `reduce does not know ${JSON.stringify(arg)}`;
    else files.push(arg);
  }
  const [file, ...more] = files;
  if (file === undefined) return "reduce needs a force file";
  if (more.length > 0) return `reduce takes one force file, not ${files.length}`;
  const [[from, conditions] = [undefined, undefined], second] = [...given];
  if (from === undefined || conditions === undefined) return "reduce needs --setup FILE or --run FILE";
  if (second !== undefined) return "give --setup or --run, not both";
  return { file, from, conditions, json };
}
