import { replay } from "../../core/record/replay.ts";
import { type Issue, placedIn } from "../../core/result.ts";
import { createSequence } from "../../core/sequence/advance.ts";
import { readRun } from "./read-run.ts";
import type { ExitCode, Io } from "./verb.ts";

export const verifyHelp = `Says whether run files are exactly what was written, and what they end in.

  fourfast verify RUNFILE... [--json]

  --json    one JSON object on standard output
  --help    this text

Checks each file's form, its chain of digests, the rig and procedure it was opened with, and that the
sequence would have given every permission that it holds. The chain shows damage and reordering, not a
determined forger: compare the head digest with the one that was written down at the stand.

Examples

  fourfast verify H-329-04.txt
  fourfast verify runs/*.txt --json

Exit code: 0 every file holds, 1 at least one does not (everything is listed), 2 wrong usage.
`;

type Verified = {
  readonly file: string;
  readonly run?: string;
  readonly entries?: number;
  readonly head?: string;
  readonly state?: string;
  readonly issues: readonly Issue[];
};

/** `fourfast verify`: @param args  what follows the verb */
export async function verifyVerb(args: readonly string[], io: Io): Promise<ExitCode> {
  const json = args.includes("--json");
  const paths = args.filter((arg) => arg !== "--json");
  const unknown = paths.find((path) => path.startsWith("--"));
  if (unknown !== undefined || paths.length === 0) {
    io.err(`${unknown === undefined ? "which run file?" : `there is no flag ${unknown}`}\n\n${verifyHelp}`);
    return 2;
  }
  const runs: Verified[] = [];
  for (const path of paths) runs.push(await verified(path, io));
  const issues = runs.flatMap((run) => run.issues);
  if (json) io.out(`${JSON.stringify({ runs, issues }, null, 2)}\n`);
  else io.out(runs.map(line).join(""));
  for (const { where, detail, remedy, code } of issues) io.err(`${code} at ${where}: ${detail}; ${remedy}\n`);
  return issues.length > 0 ? 1 : 0;
}

async function verified(file: string, io: Io): Promise<Verified> {
  const run = await readRun(file, io);
  if (!run.ok) return { file, issues: run.issues };
  const { rig, procedure, entries, head } = run.value;
  const state = replay(createSequence(rig, procedure), entries);
  const known = { file, run: run.value.run, entries: entries.length, head };
  if (state.ok) return { ...known, state: state.value.state, issues: [] };
  return { ...known, issues: placedIn(file, state.issues) };
}

const line = ({ file, run, entries, head, state, issues }: Verified): string =>
  issues.length === 0
    ? `${file}: whole. Run ${run}, ${entries} entries, ended ${state}, head ${head?.slice(0, 8)}\n`
    : `${file}: NOT whole, ${issues.length} fault${issues.length === 1 ? "" : "s"}\n`;
