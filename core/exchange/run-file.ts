import type { Procedure } from "../procedure/procedure.ts";
import { canonicalDocument, canonicalEntry } from "../record/canonical.ts";
import type { Entry } from "../record/entry.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import type { Rig } from "../rig/rig.ts";

/**
 * A run as it travels: text, JSON Lines. The first line says what it is and where its chain ends,
 * then come the rig and the procedure it ran on, whole, then the entries. Every line is canonical,
 * so that a file has one form and any change to it shows. Documented in docs/formats.md.
 */
export type RunFile = {
  /** The run's code, as it is spoken. */
  readonly run: string;
  readonly log: string;
  /** Digest of the last entry: read out, written on paper, countersigned. */
  readonly head: string;
  readonly rig: Rig;
  readonly procedure: Procedure;
  readonly entries: readonly Entry[];
};

export type RunFileHead = {
  readonly format: "fourfast-run";
  readonly version: 1;
  readonly run: string;
  readonly log: string;
  readonly entries: number;
  readonly head: string;
};

/** What stands before the entries: head, rig, procedure. */
export const LINES_BEFORE_ENTRIES = 3;

const linesOf = (run: Omit<RunFile, "head">, head: RunFileHead): readonly Result<string>[] => [
  canonicalDocument(head),
  canonicalDocument(run.rig),
  canonicalDocument(run.procedure),
  ...run.entries.map(canonicalEntry),
];

/**
 * The run's file as text. Writing it twice gives the same bytes.
 * @fails run-empty; value-unstable where something of it has no canonical form, its line in `where`
 */
export const writeRunFile = (run: Omit<RunFile, "head">): Result<string> => {
  const last = run.entries.at(-1);
  if (!last)
    return failed(issue("run-empty", run.run, "the run has no entry", "Open the run, then export it."));
  const lines = linesOf(run, {
    format: "fourfast-run",
    version: 1,
    run: run.run,
    log: run.log,
    entries: run.entries.length,
    head: last.hash,
  });
  const issues = lines.flatMap((line, i): readonly Issue[] =>
    line.ok ? [] : line.issues.map((found) => ({ ...found, where: `line ${i + 1}, ${found.where}` })),
  );
  if (issues.length > 0) return failed(...issues);
  return ok(`${lines.map((line) => (line.ok ? line.value : "")).join("\n")}\n`);
};

/** Its name where a name is wanted; the run's identity is inside. `.txt`, since share sheets pass little else. */
export const runFileName = ({ run }: Pick<RunFile, "run">): string => `fourfast-${run}.txt`;
