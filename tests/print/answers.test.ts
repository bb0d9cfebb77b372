import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { emptyRecord } from "../../app/bench/bench-record.ts";
import { seriesCsv } from "../../app/bench/export.ts";
import { verbs } from "../../app/cli/verbs.ts";
import { HERON } from "../../app/demo/documents.ts";
import { matrixCsv } from "../../app/plan/matrix-csv.ts";
import { shotChoices } from "../../core/exchange/setup-shot.ts";
import { standText } from "../../core/exchange/stand-text.ts";
import { matrixText } from "../../core/plan/matrix-file.ts";
import { testMatrix } from "../../core/plan/test-matrix.ts";
import { reviewRun } from "../../core/review/review-run.ts";
import { signOff } from "../../core/review/sign-off.ts";
import { unitNamed } from "../../core/units/units.ts";
import { LoggedWalk } from "../core/review/logged-walk.ts";
import { committed } from "./page.ts";

/**
 * What docs/formats.md says of the terminal is what the terminal does: every key of every answer is in its table and
 * every key of a table is given, every example runs as it is written.
 */
const page = committed("docs/formats.md");
const records = new URL("../records/", import.meta.url);
const record = (name: string) => readFileSync(new URL(name, records));
const heron = JSON.parse(String(record("records.json")))["heron-01.csv"].setup;
const run = (new LoggedWalk().to("closed") as LoggedWalk).file();

const section = (heading: string): string => {
  const from = page.indexOf(`\n${heading}\n`);
  expect(from, `no heading ${heading}`).toBeGreaterThan(0);
  const rest = page.slice(from + heading.length + 2);
  const level = heading.split(" ")[0]?.length ?? 2;
  const next = rest.search(new RegExp(`\n#{1,${level}} `));
  return next < 0 ? rest : rest.slice(0, next);
};

const codesIn = (text: string): string[] => [...text.matchAll(/`([^`]+)`/g)].map((match) => match[1] ?? "");
/** Codes of the first cell of each row. */
const keysOf = (text: string): string[] =>
  text.split("\n").flatMap((line) => (line.startsWith("| `") ? codesIn(line.split(" | ")[0] ?? "") : []));

/** The world of the examples: whatever they call a file, by its kind. */
const contents = (path: string, stdin: string): Buffer => {
  if (path === "-") return Buffer.from(stdin);
  if (/\.csv$/.test(path))
    return record(path.includes("nothing") ? "heron-04-nothing-happened.csv" : "heron-01.csv");
  if (/\.jsonl$/.test(path)) return Buffer.from(run.split("\n").slice(3).join("\n"));
  if (/(\.run|\.txt)$/.test(path)) return Buffer.from(run);
  if (/(rig|^r)[\w-]*\.json$/.test(path)) return Buffer.from(JSON.stringify(HERON.rig));
  if (/(procedure|draft|^p)[\w-]*\.json$/.test(path)) return Buffer.from(JSON.stringify(HERON.procedure));
  return Buffer.from(JSON.stringify(heron));
};

const fourfast = async (args: readonly string[], stdin = "") => {
  const [verb = "", ...rest] = args;
  const load = verbs[verb];
  if (!load) return { code: 2, out: "", err: `no verb ${verb}` };
  const printed = { out: "", err: "" };
  const code = await (await load()).run(rest, {
    readFile: async (path) => new Uint8Array(contents(path, stdin)),
    writeFile: async () => {},
    out: (text) => {
      printed.out += text;
    },
    err: (text) => {
      printed.err += text;
    },
  });
  return { code, ...printed };
};

/** Paths of all that is in an answer; what a row documents as a whole is not opened. */
const pathsIn = (value: unknown, whole: ReadonlySet<string>, path = ""): string[] => {
  if (whole.has(path) && !(Array.isArray(value) && path === "events")) return [path];
  if (Array.isArray(value))
    return value.some((one) => typeof one === "object" && one !== null)
      ? value.flatMap((one) => pathsIn(one, whole, `${path}[]`))
      : [path];
  if (typeof value !== "object" || value === null) return [path];
  return Object.entries(value).flatMap(([key, one]) =>
    pathsIn(one, whole, path === "" ? key : `${path}.${key}`),
  );
};

const refusedAct = `{"at": 1, "mono": 1, "session": "s", "by": "c", "event": {"type": "fill-called"}}`;

describe("formats.md names every key, and no other, of", () => {
  test.each<[string, readonly (readonly [args: string, stdin?: string])[]]>([
    ["predict --json", [["--setup -", JSON.stringify({ ...heron, ridingMass_kg: 2 })]]],
    ["reduce --json", [["one.csv --setup s.json"], ["nothing.csv --setup s.json"]]],
    ["replay --json", [["- --rig rig.json --procedure procedure.json", refusedAct]]],
    ["lint --json", [["procedure.json --rig rig.json"]]],
    ["verify --json", [["run.txt"]]],
  ])("%s", async (title, calls) => {
    const documented = keysOf(section(`### ${title}`));
    const given = new Set<string>();
    for (const [args, stdin] of calls) {
      const { out } = await fourfast([...`${title.split(" ")[0]} ${args} --json`.split(" ")], stdin);
      for (const path of pathsIn(JSON.parse(out), new Set(documented))) given.add(path);
    }
    // An empty list shows none of its items' keys; the list itself is then what is given.
    const open = documented.filter((key) => documented.some((other) => other.startsWith(`${key}[].`)));
    expect([...new Set([...given, ...open])].sort()).toEqual([...documented].sort());
  });

  test("the setup", () => {
    const documented = keysOf(section("## Setup"));
    const channel = ["column", "unit", "sign", "dischargeTime_s", "dischargeTimeRelU", "sensitivityRelU"];
    expect(documented).toEqual(expect.arrayContaining([...shotChoices, ...channel, "channels", "events"]));
  });

  test("the tables of a run", async () => {
    const { exportVerb } = await import("../../app/cli/export.ts");
    const heads = new Map<string, string>();
    await exportVerb(["run.txt", "--to", "t"], {
      readFile: async () => new TextEncoder().encode(run),
      writeFile: async (path, text) =>
        void heads.set(path.split("-").at(-1) ?? "", text.split("\r\n")[0] ?? ""),
      out: () => {},
      err: () => {},
    });
    const rows = section("## Tables of a run").split("\n");
    for (const [file, head] of heads) {
      const row = rows.find((line) => line.startsWith(`| \`RUN-${file}\``)) ?? "";
      expect(codesIn(row.split(" | ")[1] ?? "")).toEqual(head.split(","));
    }
    expect(heads.size).toBe(3);
  });
});

describe("formats.md names what bench, plan, stands and review write:", () => {
  const text = section("## Files of bench, plan and stands");
  const paragraph = (start: string) => text.split("\n").find((line) => line.startsWith(start)) ?? "";
  const levels = { water_kg: [0.5], setPressure_Pa: [3e5], replicates: 1, crews: ["K"], seed: 1 };

  test("the columns of a series, in their order", () => {
    expect(codesIn(paragraph("The series as CSV"))).toEqual(seriesCsv([]).trim().split(","));
  });

  test("the columns and keys of a matrix", () => {
    const matrix = testMatrix(levels);
    if (!matrix.ok) throw new Error("the levels are in order");
    expect(codesIn(paragraph("As CSV"))).toEqual(
      matrixCsv(matrix.value, undefined).split("\r\n")[0]?.split(","),
    );
    const given = pathsIn(JSON.parse(matrixText("heron", levels)), new Set());
    expect(keysOf(text)).toEqual(
      expect.arrayContaining(given.filter((key) => !/^(format|version)$/.test(key))),
    );
  });

  test("the keys of a bench record", () => {
    const { format, version, ...rest } = emptyRecord("0".repeat(64), "heron-01.csv");
    expect(paragraph(`**\`${format}\`**, version ${version}`)).not.toBe("");
    expect(keysOf(text)).toEqual(expect.arrayContaining(Object.keys(rest)));
  });

  test("the keys of a stand, and of a sign-off", () => {
    const { rig } = HERON;
    const stand = JSON.parse(standText({ rig, written: HERON.procedure }));
    const log = { code: "H-1-01", log: "log", entries: new LoggedWalk().to("closed").entries, faults: [] };
    const review = reviewRun(rig, HERON.procedure, log.entries);
    const signed = signOff(log, review, { by: "R9", at: 1, verdict: "follow-up", note: "Talk." });
    if (!signed.ok) throw new Error(JSON.stringify(signed.issues));
    for (const { format, version, ...rest } of [stand, signed.value]) {
      expect(paragraph(`**\`${format}\`**, version ${version}`)).not.toBe("");
      expect(keysOf(text)).toEqual(expect.arrayContaining(Object.keys(rest)));
    }
  });
});

test("every spelling of a unit that formats.md lists is understood", () => {
  const rows = section("## Force file").split("\n");
  const of = (start: string) =>
    codesIn((rows.find((line) => line.startsWith(`| ${start} |`)) ?? "").split(" | ")[1] ?? "");
  const quantities = [...of("force"), ...of("voltage, charge"), ...of("time"), ...of("rate")].map(
    (word) => [word, unitNamed(word)?.quantity] as const,
  );
  expect(quantities.length).toBeGreaterThan(30);
  expect(quantities.filter(([, quantity]) => quantity === undefined)).toEqual([]);
});

/** Commands of a text: what stands before a pipe or a redirection, and what an echo before it hands in. */
const commandsIn = (text: string): { line: string; args: string[]; stdin: string }[] =>
  [
    ...text
      .replaceAll("node dist/cli/fourfast.js", "fourfast")
      .matchAll(/^ *(?:echo '([^']*)' \| )?fourfast ([a-z]+ [^\n|>#]*)/gm),
  ].map(([line, stdin = "", command = ""]) => ({
    line: line.trim(),
    args: command.trim().split(/\s+/),
    stdin,
  }));

describe("every example runs as it is written:", async () => {
  const helps = await Promise.all(
    Object.entries(verbs).map(async ([verb, load]) => {
      const { help } = await load();
      return [`${verb} --help`, help.slice(help.indexOf("Example"))] as const;
    }),
  );
  const fenced = (path: string) =>
    [...committed(path).matchAll(/```sh\n([^`]*)```/g)].map((match) => match[1]).join("");
  const texts = [
    ...helps,
    ...["README.md", "docs/writing-procedures.md", "docs/deploying.md"].map(
      (path) => [path, fenced(path)] as const,
    ),
  ];
  const commands = texts.flatMap(([of, text]) => commandsIn(text).map((command) => ({ of, ...command })));

  test("there are some in every help", () => {
    const without = helps.filter(([of]) => !commands.some((command) => command.of === of));
    expect(without).toEqual([]);
    expect(commands.length).toBeGreaterThan(15);
  });

  test.each(commands)("$of: $line", async ({ args, stdin }) => {
    const { code, err } = await fourfast(args, stdin);
    expect([code, err]).toEqual([0, ""]);
  });

  test("the smallest setup and the events of formats.md", async () => {
    const [setup = "", events = ""] = [...page.matchAll(/```json\n([^`]*)```/g)].map(
      (match) => match[1] ?? "",
    );
    expect((await fourfast(["predict", "--setup", "-"], setup)).code).toBe(0);
    const replay = ["replay", "-", "--rig", "rig.json", "--procedure", "procedure.json", "--json"];
    const { steps } = JSON.parse((await fourfast(replay, events)).out);
    expect(steps.map(({ accepted }: { accepted: boolean }) => accepted)).toEqual([true, true]);
  });
});
