import { expect, test } from "vitest";
import { exportVerb } from "../../../app/cli/export.ts";
import { replayVerb } from "../../../app/cli/replay.ts";
import type { ExitCode, Io } from "../../../app/cli/verb.ts";
import { verifyVerb } from "../../../app/cli/verify.ts";
import { HERON } from "../../../app/demo/documents.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";

const walk = new LoggedWalk().to("closed") as LoggedWalk;
walk.say({ type: "noted", text: "gusts" }, "=SUM(A1)");
const run = walk.file();
const lines = run.trimEnd().split("\n");
const act = (event: object, at = 1000) => JSON.stringify({ at, mono: at * 10, session: "s", by: "c", event });

const FILES: Readonly<Record<string, string>> = {
  "run.txt": run,
  "cut.txt": lines.slice(0, -2).join("\n"),
  "edited.txt": run.replace("600 g", "700 g"),
  "entries.jsonl": lines.slice(3).join("\n"),
  "early.jsonl": [act({ type: "fill-called" }), act({ type: "air-seen-on" }, 2000)].join("\n"),
  "broken.jsonl": [act({ type: "warp-called" }), "{", act({ type: "noted", text: "x" })].join("\n"),
  "vague.jsonl": [act({ type: "signed-on" }), act({ type: "hold-called", why: "gust", whom: "c" })].join(
    "\n",
  ),
  "rig.json": JSON.stringify(HERON.rig),
  "procedure.json": JSON.stringify(HERON.procedure),
};

const terminal = async (verb: (args: readonly string[], io: Io) => Promise<ExitCode>, ...args: string[]) => {
  const printed = { out: "", err: "" };
  const written = new Map<string, string>();
  const code = await verb(args, {
    readFile: async (path) => {
      const text = FILES[path];
      if (text === undefined) throw new Error(`no such file: ${path}`);
      return new TextEncoder().encode(text);
    },
    writeFile: async (path, text) => void written.set(path, text),
    out: (text) => {
      printed.out += text;
    },
    err: (text) => {
      printed.err += text;
    },
  });
  return { code, ...printed, written };
};

const documents = ["--rig", "rig.json", "--procedure", "procedure.json"] as const;

test("verify says that a whole run is whole, where it ended and under which digest", async () => {
  const { code, out, err } = await terminal(verifyVerb, "run.txt");
  expect([code, err]).toEqual([0, ""]);
  expect(out).toContain(`ended closed, head ${walk.entries.at(-1)?.hash.slice(0, 8)}`);
});

test("verify names the line of a cut and of an edited file, and exits with 1", async () => {
  const { code, out } = await terminal(verifyVerb, "run.txt", "cut.txt", "edited.txt", "--json");
  const { runs } = JSON.parse(out);
  expect(code).toBe(1);
  expect(runs.map(({ issues }: { issues: unknown[] }) => issues.length > 0)).toEqual([false, true, true]);
  expect(runs[1].issues[0].code).toBe("run-truncated");
  expect(runs[2].issues[0].where).toMatch(/^edited.txt, line \d+/);
});

test("replay folds a run's own entries to where the run ended, every one accepted", async () => {
  const { code, out } = await terminal(replayVerb, "entries.jsonl", ...documents, "--json");
  const { steps } = JSON.parse(out);
  expect(code).toBe(0);
  expect(steps.filter(({ accepted }: { accepted: boolean }) => !accepted)).toEqual([]);
  expect(steps.at(-1)).toMatchObject({ state: "closed", tags: ["near", "final"] });
});

test("replay gives a refusal with all that is missing, and never refuses a report", async () => {
  const { code, out } = await terminal(replayVerb, "early.jsonl", ...documents, "--json");
  const [call, report] = JSON.parse(out).steps;
  expect(code).toBe(0);
  expect(call).toMatchObject({ accepted: false, state: "preparing", permitted: [] });
  expect(call.refused.map((each: { code: string }) => each.code)).toContain("bottle-fit");
  expect(report).toMatchObject({ accepted: true, state: "making-safe", tags: ["pressurePossible"] });
});

test("replay lists every line that is no act, and folds nothing then", async () => {
  const { code, out } = await terminal(replayVerb, "broken.jsonl", ...documents, "--json");
  const { steps, issues } = JSON.parse(out);
  expect([code, steps]).toEqual([1, []]);
  expect(issues.map(({ where }: { where: string }) => where)).toEqual([
    "broken.jsonl, line 1",
    "broken.jsonl, line 2",
  ]);
});

test("replay reads each event's fields as strictly as a run file's", async () => {
  const { code, out } = await terminal(replayVerb, "vague.jsonl", ...documents, "--json");
  const { issues } = JSON.parse(out);
  expect(code).toBe(1);
  expect(issues.map(({ code, where }: { code: string; where: string }) => `${code} ${where}`)).toEqual([
    "key-missing vague.jsonl, line 1, event.person",
    "key-missing vague.jsonl, line 1, event.role",
    "key-unknown vague.jsonl, line 2, event.whom",
  ]);
});

test("export writes three tables and disarms what a spreadsheet would run", async () => {
  const { code, written } = await terminal(exportVerb, "run.txt", "--to", "tables");
  expect(code).toBe(0);
  expect([...written.keys()]).toEqual(
    ["entries", "readings", "findings"].map((name) => `tables/H-329-04-${name}.csv`),
  );
  expect(written.get("tables/H-329-04-readings.csv")).toContain(",water,600.000,,g,scale");
  expect(written.get("tables/H-329-04-findings.csv")).toContain("note: gusts");
  expect(written.get("tables/H-329-04-entries.csv")).toContain(",'=SUM(A1),noted,");
});

test.each([
  [verifyVerb, []],
  [verifyVerb, ["run.txt", "--loud"]],
  [replayVerb, ["entries.jsonl", "--rig", "rig.json"]],
  [replayVerb, ["a.jsonl", "b.jsonl", ...documents]],
  [exportVerb, ["run.txt"]],
])("exits with 2 and its help on wrong usage", async (verb, args) => {
  const { code, err } = await terminal(verb, ...args);
  expect([code, err.includes("fourfast ")]).toEqual([2, true]);
});
