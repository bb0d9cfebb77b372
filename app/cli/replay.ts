import { parseProcedure } from "../../core/procedure/parse-procedure.ts";
import { SequenceEventSchema } from "../../core/record/event-schema.ts";
import { failed, issue, ok, type Result } from "../../core/result.ts";
import { parseRig } from "../../core/rig/parse-rig.ts";
import { readDocument } from "../../core/schema/read-document.ts";
import { advance, createSequence, permitted, type Sequence } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import { tagsOf } from "../../core/sequence/states.ts";
import { type Act, PERMISSION_TYPES, REPORT_TYPES } from "../../core/sequence/vocabulary.ts";
import { readJsonFile } from "./read-json.ts";
import type { ExitCode, Io } from "./verb.ts";

export const replayHelp = `Folds events through the sequence: accepted or refused, then what is permitted.

  fourfast replay EVENTS.jsonl --rig R.json --procedure P.json [--json]

  --rig FILE         the rig
  --procedure FILE   the procedure
  --json             one JSON object on standard output: steps, one an event, and the last state
  --help             this text

Each line of EVENTS is one act: {"at": ms, "mono": tenths of ms, "session": "…", "by": "code",
"event": {"type": "…", …}}. Entries of a run's log are such lines; their other keys are passed over,
and "opened" and "kept" do not concern the sequence. The words are in docs/formats.md.

Examples

  fourfast replay events.jsonl --rig rig-heron.json --procedure procedure-heron.json
  fourfast replay events.jsonl --rig r.json --procedure p.json --json | jq '.steps[].refused'

Exit code: 0 every line was read (a refusal is an answer, not a fault), 1 the input is at fault,
2 wrong usage.
`;

type Said = { readonly line: number; readonly act: Act };

/** `fourfast replay`: @param args  what follows the verb */
export async function replayVerb(args: readonly string[], io: Io): Promise<ExitCode> {
  const usage = readArguments(args);
  if (typeof usage === "string") {
    io.err(`${usage}\n\n${replayHelp}`);
    return 2;
  }
  const [rig, procedure, acts] = await Promise.all([
    readJsonFile(usage.rig, io).then((json) => (json.ok ? parseRig(json.value) : json)),
    readJsonFile(usage.procedure, io).then((json) => (json.ok ? parseProcedure(json.value) : json)),
    readActs(usage.events, io),
  ]);
  if (!rig.ok || !procedure.ok || !acts.ok) {
    const issues = [rig, procedure, acts].flatMap((result) => (result.ok ? [] : result.issues));
    if (usage.json) io.out(`${JSON.stringify({ steps: [], issues }, null, 2)}\n`);
    for (const { where, detail, remedy, code } of issues)
      io.err(`${code} at ${where}: ${detail}; ${remedy}\n`);
    return 1;
  }
  const steps = fold(createSequence(rig.value, procedure.value), acts.value);
  if (usage.json) io.out(`${JSON.stringify({ steps, issues: [] }, null, 2)}\n`);
  else io.out(steps.map(stepText).join(""));
  return 0;
}

const fold = (sequence: Sequence, acts: readonly Said[]) => {
  let snapshot: Snapshot = sequence.initial;
  return acts.map(({ line, act }) => {
    const next = advance(sequence, snapshot, act);
    if (next.ok) snapshot = next.value;
    const open = permitted(sequence, snapshot, act);
    return {
      line,
      event: act.event.type,
      accepted: next.ok,
      ...(!next.ok && { refused: next.issues }),
      state: snapshot.state,
      tags: tagsOf(snapshot.state),
      onHold: snapshot.context.hold !== undefined,
      permitted: open.filter(({ missing }) => missing.length === 0).map(({ type }) => type),
      shut: open
        .filter(({ missing }) => missing.length > 0)
        .map(({ type, missing }) => ({ type, missing: missing.map(({ code }) => code) })),
    };
  });
};

type Step = ReturnType<typeof fold>[number];

const stepText = ({ line, event, accepted, refused, state, tags, onHold, permitted: open }: Step): string => {
  const outcome = accepted ? "accepted" : "REFUSED";
  const why = (refused ?? [])
    .map(({ code, detail, remedy }) => `    ${code}: ${detail}. ${remedy}\n`)
    .join("");
  const may = open.length > 0 ? `; open: ${open.join(", ")}` : "";
  return `${line}  ${event}  ${outcome}  → ${state} [${tags.join(", ")}]${onHold ? " ON HOLD" : ""}${may}\n${why}`;
};

const KNOWN: readonly string[] = [...PERMISSION_TYPES, ...REPORT_TYPES];
const ABOUT_THE_RECORD: readonly string[] = ["opened", "kept"];

async function readActs(path: string, io: Io): Promise<Result<readonly Said[]>> {
  let text: string;
  try {
    text = new TextDecoder().decode(await io.readFile(path));
  } catch (error) {
    return failed(issue("file-unreadable", path, String((error as Error).message), "look at the path"));
  }
  const read = text.split(/\r?\n/).flatMap((content, index) => {
    const where = `${path}, line ${index + 1}`;
    return content.trim() === "" ? [] : [{ line: index + 1, act: readAct(content, where) }];
  });
  const issues = read.flatMap(({ act }) => (act.ok ? [] : act.issues));
  if (issues.length > 0) return failed(...issues);
  const acts = read.flatMap(({ line, act }) => (act.ok && act.value ? [{ line, loose: act.value }] : []));
  return ok(acts.map(({ line, loose }, place) => ({ line, act: { seq: place, ...loose } })));
}

/** An act without its place where the line names none. */
type Loose = Omit<Act, "seq"> & { readonly seq?: number };

/** @returns undefined for what does not concern the sequence */
const readAct = (content: string, where: string): Result<Loose | undefined> => {
  const no = (detail: string) => failed(issue("line-not-an-act", where, detail, "see docs/formats.md"));
  let json: unknown;
  try {
    json = JSON.parse(content);
  } catch (error) {
    return no(`no JSON: ${(error as Error).message}`);
  }
  if (typeof json !== "object" || json === null) return no("no object");
  const { at, mono, session, by, event, seq } = json as Partial<Record<string, unknown>>;
  const type = typeof event === "object" && event !== null ? (event as { type?: unknown }).type : undefined;
  if (typeof type !== "string") return no("no event with a type");
  if (ABOUT_THE_RECORD.includes(type)) return ok(undefined);
  if (!KNOWN.includes(type)) return no(`"${type}" is no word of the log`);
  if (!Number.isSafeInteger(at) || !Number.isSafeInteger(mono)) return no("at and mono are whole numbers");
  if (typeof session !== "string" || typeof by !== "string") return no("session and by are texts");
  const read = readDocument(SequenceEventSchema, event);
  if (read.value === undefined)
    return failed(...read.issues.map((found) => ({ ...found, where: `${where}, event.${found.where}` })));
  const stamp = { at: at as number, mono: mono as number, session };
  return ok({ ...stamp, by, event: read.value, ...(Number.isSafeInteger(seq) && { seq: seq as number }) });
};

type Usage = {
  readonly events: string;
  readonly rig: string;
  readonly procedure: string;
  readonly json: boolean;
};

function readArguments(args: readonly string[]): Usage | string {
  const given: { [flag: string]: string } = {};
  const files: string[] = [];
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] as string;
    if (arg === "--json") continue;
    const [, flag, inline] = /^--(rig|procedure)(?:=(.*))?$/.exec(arg) ?? [];
    if (flag === undefined) {
      if (arg.startsWith("--")) return `there is no flag ${arg}`;
      files.push(arg);
      continue;
    }
    if (flag in given) return `--${flag} is given twice`;
    const value = inline ?? args[++i];
    if (value === undefined) return `--${flag} needs a file`;
    given[flag] = value;
  }
  const [events, ...more] = files;
  if (events === undefined || more.length > 0) return "give one file of events";
  const { rig, procedure } = given;
  if (rig === undefined || procedure === undefined) return "give --rig and --procedure";
  return { events, rig, procedure, json: args.includes("--json") };
}
