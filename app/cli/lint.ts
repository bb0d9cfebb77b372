import { lintDocument } from "../../core/procedure/lint/lint-document.ts";
import type { Linted } from "../../core/procedure/lint/lint-procedure.ts";
import { failed, type Issue, ok, placedIn, type Result } from "../../core/result.ts";
import { parseRig } from "../../core/rig/parse-rig.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { readJsonFile } from "./read-json.ts";
import type { ExitCode, Io } from "./verb.ts";

export const lintHelp = `Says everything that is wrong with a procedure, where, and how to mend it.

  fourfast lint PROCEDURE.json [--rig R.json] [--today YYYY-MM-DD] [--json]

  --rig FILE     the rig it is for; without it the rules about the rig's numbers say nothing
  --today DATE   the day against which accepted deviations lapse; else today
  --json         one JSON object on standard output: issues (errors), warnings, notes
  --help         this text

"-" in place of a file reads standard input. An error keeps the procedure from starting a run;
a warning is for whoever approves it to accept by name; a note is worth knowing.

Examples

  fourfast lint procedure-heron.json --rig rig-heron.json
  fourfast lint draft.json --json | jq '.issues[].where'

Exit code: 0 no error, 1 the procedure or the rig is at fault (everything is listed), 2 wrong usage.
`;

interface Usage {
  procedure: string;
  rig?: string;
  today: string;
  json: boolean;
}

/**
 * `fourfast lint`: reads a procedure, and the rig it is for, and prints what the rules find.
 * @param args  what follows the verb
 */
export async function lintVerb(args: readonly string[], io: Io): Promise<ExitCode> {
  const usage = readArguments(args);
  if (typeof usage === "string") {
    io.err(`${usage}\n\n${lintHelp}`);
    return 2;
  }
  const procedure = await readJsonFile(usage.procedure, io);
  const rig = usage.rig === undefined ? ok(undefined) : await readRig(usage.rig, io);
  const linted = procedure.ok
    ? lintDocument(procedure.value, rig.ok ? rig.value : undefined, usage.today)
    : { errors: procedure.issues, warnings: [], notes: [] };
  const found = rig.ok ? linted : { ...linted, errors: [...rig.issues, ...linted.errors] };
  if (usage.json) {
    const { errors: issues, warnings, notes } = found;
    io.out(`${JSON.stringify({ issues, warnings, notes }, null, 2)}\n`);
  } else io.out(asText(found, rig.ok && rig.value === undefined));
  return found.errors.length > 0 ? 1 : 0;
}

/** Its own places begin with the file's name: the procedure's stand beside them. */
async function readRig(path: string, io: Io): Promise<Result<Rig>> {
  const json = await readJsonFile(path, io);
  if (!json.ok) return json;
  const rig = parseRig(json.value);
  return rig.ok ? rig : failed(...placedIn(path, rig.issues));
}

function asText({ errors, warnings, notes }: Linted, withoutRig: boolean): string {
  const block = (title: string, issues: readonly Issue[]) =>
    issues.map(
      ({ code, where, detail, remedy }) => `${title}  ${where}\n  ${detail}\n  ${remedy}  [${code}]\n`,
    );
  const count = (list: readonly Issue[], one: string) =>
    `${list.length} ${one}${list.length === 1 ? "" : "s"}`;
  return [
    ...block("error", errors),
    ...block("warning", warnings),
    ...block("note", notes),
    `${count(errors, "error")}, ${count(warnings, "warning")}, ${count(notes, "note")}${withoutRig ? "; the rig's numbers were not judged: give --rig" : ""}\n`,
  ].join("\n");
}

function readArguments(args: readonly string[]): Usage | string {
  const files: string[] = [];
  const given: { rig?: string; today?: string } = {};
  let json = false;
  for (let i = 0; i < args.length; i++) {
    const arg = args[i]!;
    const [, flag, inline] = /^--(rig|today)(?:=(.*))?$/.exec(arg) ?? [];
    if (flag === "rig" || flag === "today") {
      if (given[flag] !== undefined) return `--${flag} is given twice`;
      const value = inline ?? args[++i];
      if (value === undefined || value === "") return `--${flag} needs a value`;
      given[flag] = value;
    } else if (arg === "--json") json = true;
    else if (arg.startsWith("-") && arg !== "-") return `lint does not know ${JSON.stringify(arg)}`;
    else files.push(arg);
  }
  const [procedure, ...more] = files;
  if (procedure === undefined) return "lint needs a procedure file";
  if (more.length > 0) return "lint takes one procedure at a time";
  if (procedure === "-" && given.rig === "-") return "only one file can be standard input";
  const { today = localDate(new Date()) } = given;
  if (!/^\d{4}-\d{2}-\d{2}$/.test(today) || Number.isNaN(Date.parse(today)))
    return "--today needs a date: 2026-07-31";
  return { procedure, today, json, ...(given.rig !== undefined && { rig: given.rig }) };
}

const localDate = (date: Date): string =>
  [date.getFullYear(), date.getMonth() + 1, date.getDate()]
    .map((part) => String(part).padStart(2, "0"))
    .join("-");
