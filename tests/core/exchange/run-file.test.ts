import { fc, test as property } from "@fast-check/vitest";
import { expect, test } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import { readRunFile } from "../../../core/exchange/read-run-file.ts";
import { runFileName, writeRunFile } from "../../../core/exchange/run-file.ts";
import { appendEntry } from "../../../core/record/append.ts";
import type { Entry } from "../../../core/record/entry.ts";
import { draft, hashOf, nominalLog, OPENED, sealAll } from "../record/short-log.ts";

const entries = nominalLog();
const run = { run: "H-329-01", log: "log1", ...HERON, entries };

const textOf = (of: Parameters<typeof writeRunFile>[0] = run): string => {
  const text = writeRunFile(of);
  if (!text.ok) throw new Error(JSON.stringify(text.issues));
  return text.value;
};
const TEXT = textOf();
const LINES = TEXT.trimEnd().split("\n");

/** The file with one line changed. */
const withLine = (number: number, change: (line: string) => string): string =>
  LINES.map((line, i) => (i === number - 1 ? change(line) : line)).join("\n");

const found = (file: string | Uint8Array): readonly string[] => {
  const read = readRunFile(file);
  return read.ok ? [] : read.issues.map(({ code, where }) => `${code} at ${where}`);
};

test("a run comes back from its file as it went in, and writing it again gives the same bytes", () => {
  const read = readRunFile(TEXT);
  expect(read).toEqual({ ok: true, value: { ...run, head: entries.at(-1)?.hash } });
  if (read.ok) expect(textOf(read.value)).toBe(TEXT);
  expect(readRunFile(new TextEncoder().encode(TEXT))).toEqual(read);
  expect(runFileName(run)).toBe("fourfast-H-329-01.txt");
});

test("the first line says the format, the run, its log, how many entries and where the chain ends", () => {
  expect(JSON.parse(LINES[0] ?? "")).toEqual({
    format: "fourfast-run",
    version: 1,
    run: "H-329-01",
    log: "log1",
    entries: entries.length,
    head: entries.at(-1)?.hash,
  });
});

test("line ends of another system and a byte order mark do no harm", () => {
  expect(found(`\uFEFF${LINES.join("\r\n")}\r\n\r\n`)).toEqual([]);
});

test("a file that was cut between two lines says how much of it is there", () => {
  const cut = LINES.slice(0, 20).join("\n");
  expect(found(cut)).toEqual(["run-truncated at the end"]);
  const read = readRunFile(cut);
  expect(read.ok ? "" : read.issues[0]?.detail).toBe(`17 entries of ${entries.length} are there`);
});

test("a file that was cut inside a line names the line, and says both", () => {
  const cut = TEXT.slice(0, TEXT.length / 2);
  const number = cut.split("\n").length;
  expect(found(cut)).toEqual([`line-not-json at line ${number}`, "run-truncated at the end"]);
});

test("a file cut inside its documents says what is missing", () => {
  expect(found(LINES[0] ?? "")).toEqual([
    "wrong-type at the end, the file",
    "wrong-type at the end, the file",
    "run-truncated at the end",
  ]);
  expect(found(`${LINES[0]}\n${LINES[1]}\n{"author`)).toEqual([
    "line-not-json at line 3",
    "run-truncated at the end",
  ]);
});

test("an edited word is found at its line, whatever line that is", () => {
  expect(found(withLine(12, (line) => line.replace('"by":"C1"', '"by":"C2"')))).toEqual([
    "entry-changed at line 12",
  ]);
  expect(found(withLine(2, (line) => line.replace("Larkmoor", "Larkmore")))).toEqual([
    "document-changed at line 2",
  ]);
  expect(found(withLine(3, (line) => line.replace('"revision":', '"revision":1')))).toEqual([
    "document-changed at line 3",
  ]);
});

property.prop([fc.nat({ max: TEXT.length - 2 }), fc.constantFrom("0", "x", '"', " ", "é")])(
  "no single character can change unseen",
  (place, by) => {
    if (TEXT[place] === by) return;
    expect(readRunFile(`${TEXT.slice(0, place)}${by}${TEXT.slice(place + 1)}`).ok).toBe(false);
  },
);

test("a line that was laid out anew is named, though it says the same", () => {
  expect(found(withLine(9, (line) => line.replaceAll(",", ", ")))).toContain("line-not-canonical at line 9");
  const twice = withLine(9, (line) => line.replace("{", '{"by":"X",'));
  expect(found(twice)).toContain("line-not-canonical at line 9");
});

test("every fault is listed: three edited lines are three issues", () => {
  const edited = LINES.map((line, i) => ([5, 8, 30].includes(i) ? line.replace('"C1"', '"C9"') : line)).join(
    "\n",
  );
  expect(found(edited)).toEqual([
    "entry-changed at line 6",
    "entry-changed at line 9",
    "entry-changed at line 31",
  ]);
});

test("a removed line is found by number, and a broken one does not make its neighbours look broken", () => {
  const without = LINES.filter((_, i) => i !== 15).join("\n");
  expect(found(without)).toEqual(["entry-out-of-order at line 16", "run-truncated at the end"]);
  expect(found(withLine(16, () => "{}"))).toEqual(["entry-version-unknown at line 16"]);
  expect(found(withLine(16, () => "lost"))).toEqual(["line-not-json at line 16"]);
  expect(found(withLine(16, (line) => line.slice(0, -3)))).toEqual(["line-not-json at line 16"]);
});

test("an end that was cut off and a head that was made to fit are not seen, and the docs say so; a head that was not is", () => {
  const shorter = entries.slice(0, -3);
  const head = JSON.stringify({ ...JSON.parse(LINES[0] ?? ""), entries: shorter.length });
  expect(found([head, ...LINES.slice(1, 3 + shorter.length)].join("\n"))).toEqual(["head-differs at line 1"]);
  expect(readRunFile(textOf({ ...run, entries: shorter })).ok).toBe(true);
});

test("entries beyond those that the head counts are no part of the run", () => {
  const head = JSON.stringify({ ...JSON.parse(LINES[0] ?? ""), entries: entries.length - 1 });
  expect(found([head, ...LINES.slice(1)].join("\n"))).toEqual(["run-too-long at the end"]);
});

test("a run under another name than its own is refused", () => {
  expect(found(textOf({ ...run, run: "H-329-02" }))).toEqual(["head-differs at line 1"]);
});

test("a rig or a procedure that the run was not opened with is refused", () => {
  expect(found(textOf({ ...run, rig: KINGFISHER.rig }))).toEqual(["document-changed at line 2"]);
  expect(found(textOf({ ...run, procedure: KINGFISHER.procedure }))).toEqual(["document-changed at line 3"]);
});

test("a log that does not begin with its opening is no run", () => {
  const bare = sealAll([{ type: "line-crossed" }]);
  expect(found(textOf({ ...run, entries: bare }))).toEqual(["entry-first-not-opened at line 4"]);
});

test("a newer version is said, in the head and in an entry, and nothing is dropped", () => {
  expect(found(withLine(1, (line) => line.replace('"version":1', '"version":2')))).toEqual([
    "version-newer at line 1, version",
  ]);
  expect(found(withLine(2, (line) => line.replace(/"version":1}$/, '"version":2}')))).toContain(
    "version-newer at line 2, version",
  );
  const codes = found(withLine(10, (line) => line.replace('"v":1', '"v":2')));
  expect(codes).toContain("entry-version-newer at line 10");
});

test("an event or a field that nobody knows is said, with its place, though the chain is sound", () => {
  const opened = { ...OPENED, rig: hashOf(HERON.rig), procedure: hashOf(HERON.procedure) };
  const strange = sealAll([
    opened,
    { type: "jumped" } as never,
    { type: "line-crossed", loudly: true } as never,
  ]);
  expect(found(textOf({ ...run, entries: strange }))).toEqual([
    "value-unknown at line 5, event.type",
    "key-unknown at line 6, event.loudly",
  ]);
});

test.each([
  ["nothing", ""],
  ["a table", "t,F1,F2\n0,1,2\n"],
  ["another JSON", '{"format":"fourfast-rig"}\n{}'],
  ["a list", "[1,2]"],
  ["bytes that are no text", new Uint8Array([0xff, 0xfe, 0x00, 0x80])],
])("%s is no run file", (_what, file) => {
  expect(found(file)[0]).toBe("run-file-unknown at line 1");
});

test("what is too large, too long or nested without end is refused, not read", () => {
  expect(found(" ".repeat(20_000_001))).toEqual(["run-file-too-large at the file"]);
  expect(found(withLine(9, () => "x".repeat(1_000_001)))).toContain("line-too-long at line 9");
  const deep = `{"a":${"[".repeat(2000)}${"]".repeat(2000)}}`;
  expect(found(withLine(9, () => deep))).toContain("value-too-deep at line 9");
});

test("a run without an entry, or with a text that no digest can hold, is not written", () => {
  expect(writeRunFile({ ...run, entries: [] })).toMatchObject({ ok: false, issues: [{ code: "run-empty" }] });
  const broken = { ...run, rig: { ...HERON.rig, name: "\uD83D" } };
  expect(writeRunFile(broken)).toMatchObject({ ok: false, issues: [{ where: "line 2, name" }] });
});

test("an entry that was forged and sealed anew, with the rest sealed after it, verifies: a chain is no witness", () => {
  const forged: Entry[] = [];
  for (const { seq, at, mono, event } of entries) {
    const said = seq === 9 ? ({ type: "noted", text: "forged" } as const) : event;
    const sealed = appendEntry(forged.at(-1), { ...draft(said), at, mono });
    if (sealed.ok) forged.push(sealed.value);
  }
  expect(readRunFile(textOf({ ...run, entries: forged })).ok).toBe(true);
  expect(forged.at(-1)?.hash).not.toBe(entries.at(-1)?.hash);
});
