import { strFromU8 } from "fflate";
import * as v from "valibot";
import { ProcedureSchema } from "../procedure/procedure-schema.ts";
import { canonicalDocument } from "../record/canonical.ts";
import { digest } from "../record/digest.ts";
import type { Entry } from "../record/entry.ts";
import { EntrySchema } from "../record/entry-schema.ts";
import { migrateEntry } from "../record/migrate.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { RigSchema } from "../rig/rig-schema.ts";
import { readDocument } from "../schema/read-document.ts";
import { LINES_BEFORE_ENTRIES, type RunFile, type RunFileHead } from "./run-file.ts";
import { chainFaults, type Line, readLines, SEND_AGAIN } from "./run-file-lines.ts";

/** Far more than any run weighs (200 entries: 0.1 MB): what is larger is no run, or an attack. */
const FILE_CHARACTERS = 20_000_000;

const HeadSchema = v.strictObject({
  format: v.literal("fourfast-run"),
  version: v.literal(1),
  run: v.pipe(v.string(), v.maxLength(60, "at most 60 characters")),
  log: v.pipe(v.string(), v.maxLength(200, "at most 200 characters")),
  entries: v.pipe(v.number(), v.safeInteger("a whole number"), v.minValue(1, "1 or more")),
  head: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/, "64 hexadecimal digits")),
});

/** Reads one line against its schema; what is wrong names the line, then the field. */
const readAs = <S extends v.GenericSchema>(
  schema: S,
  { value, where, issues }: Line,
): Result<v.InferOutput<S>> => {
  // What is wrong with the line was said already.
  if (value === undefined && issues.length > 0) return failed();
  const read = readDocument(schema, value);
  if (read.value !== undefined) return ok(read.value);
  const place = (found: Issue): Issue => ({ ...found, where: `${where}, ${found.where}` });
  return failed(...read.issues.map(place));
};

const readEntry = (line: Line): Result<Entry> => {
  const current = migrateEntry(line.value ?? {}, line.where);
  return current.ok ? readAs(EntrySchema, { ...line, value: current.value }) : current;
};

/** What the head, the documents and the entries say of one another. */
const disagreements = (
  head: RunFileHead,
  lines: readonly Line[],
  entries: readonly Entry[],
): readonly Issue[] => {
  const found: Issue[] = [];
  const add = (code: string, where: string, detail: string): void => {
    found.push(issue(code, where, detail, SEND_AGAIN));
  };
  const there = lines.length - LINES_BEFORE_ENTRIES;
  const last = entries.at(-1);
  if (there < head.entries) add("run-truncated", "the end", `${there} entries of ${head.entries} are there`);
  else if (there > head.entries)
    add("run-too-long", "the end", `${there} entries are there, and the first line says ${head.entries}`);
  else if (last?.seq === head.entries - 1 && last.hash !== head.head)
    add("head-differs", "line 1", "the digest it names is not that of the last entry");

  const first = entries.find(({ seq }) => seq === 0)?.event;
  if (first && first.type !== "opened")
    add("entry-first-not-opened", `line ${LINES_BEFORE_ENTRIES + 1}`, "a run begins with its opening");
  if (first?.type !== "opened") return found;
  if (first.run !== head.run)
    add("head-differs", "line 1", `it says ${head.run}, and the run calls itself ${first.run}`);
  for (const [i, name] of (["rig", "procedure"] as const).entries()) {
    const text = canonicalDocument(lines[i + 1]?.value ?? {});
    if (!text.ok || digest(text.value) !== first[name])
      add("document-changed", `line ${i + 2}`, `the ${name} is not the one that the run was opened with`);
  }
  return found;
};

/** Nothing but the head can say what the file is: without one, faults of its lines help nobody. */
const readHead = (line: Line | undefined): Result<RunFileHead> => {
  if (line?.value?.["format"] === "fourfast-run") return readAs(HeadSchema, line);
  const broken = line?.issues.filter(({ code }) => code !== "line-not-canonical") ?? [];
  const remedy = "Choose the file that the phone shared or saved.";
  return failed(issue("run-file-unknown", "line 1", "this is no run file", remedy), ...broken);
};

const issuesOf = (results: readonly Result<unknown>[]): readonly Issue[] =>
  results.flatMap((result) => (result.ok ? [] : result.issues));

/**
 * Reads a run file and believes nothing of it: size, form, chain, schema, and that its parts agree.
 * Whether the sequence would have given what it says was given is `replay`'s to judge.
 * @param file  the text, or its bytes in UTF-8
 * @fails run-file-too-large, run-file-unknown, version-newer, line-not-json, line-not-canonical,
 *   line-too-long, run-truncated, run-too-long, head-differs, document-changed,
 *   entry-first-not-opened, the faults of the chain, entry-version-newer, and those of the schemas:
 *   all at once, each with its line
 */
export const readRunFile = (file: string | Uint8Array): Result<RunFile> => {
  if (file.length > FILE_CHARACTERS) {
    const detail = `it is ${Math.round(file.length / 1e6)} MB, more than any run is`;
    return failed(issue("run-file-too-large", "the file", detail, "Choose the run's own file."));
  }
  // What is not UTF-8 becomes a replacement sign, which then fits no digest.
  const lines = readLines(typeof file === "string" ? file : strFromU8(file));
  const head = readHead(lines[0]);
  if (!head.ok) return head;
  const [, rigLine, procedureLine, ...body] = lines;
  const noLine: Line = { where: "the end", issues: [] };
  const rig = readAs(RigSchema, rigLine ?? noLine);
  const procedure = readAs(ProcedureSchema, procedureLine ?? noLine);
  const entries = body.filter(({ value }) => value).map(readEntry);
  const good = entries.flatMap((entry) => (entry.ok ? [entry.value] : []));
  const issues = [
    ...lines.flatMap((line) => line.issues),
    ...issuesOf([rig, procedure, ...entries]),
    ...chainFaults(body, head.value.log),
    ...disagreements(head.value, lines, good),
  ];
  if (issues.length > 0 || !rig.ok || !procedure.ok) return failed(...issues);
  const { run, log, head: last } = head.value;
  return ok({ run, log, head: last, rig: rig.value, procedure: procedure.value, entries: good });
};
