import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { reduceHelp, reduceVerb } from "../../../app/cli/reduce.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";

const folder = new URL("../../records/", import.meta.url);
const record = (name: string) => new Uint8Array(readFileSync(new URL(name, folder)));
const setups = JSON.parse(readFileSync(new URL("records.json", folder), "utf8"));
const text = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
const files: Readonly<Record<string, Uint8Array>> = {
  "one.csv": record("heron-01.csv"),
  "none.csv": record("heron-04-nothing-happened.csv"),
  "empty.csv": new Uint8Array(0),
  "S.json": text(setups["heron-01.csv"].setup),
  "bad.json": text({ ...setups["heron-01.csv"].setup, water_kg: -1, pressure_bar: 3 }),
  "H01.run": new TextEncoder().encode((new LoggedWalk().to("closed") as LoggedWalk).file()),
};

async function terminal(args: readonly string[]) {
  const printed = { out: "", err: "" };
  const code = await reduceVerb(args, {
    readFile: async (path) => {
      const bytes = files[path];
      if (bytes === undefined) throw new Error(`no such file: ${path}`);
      return bytes;
    },
    out: (line) => {
      printed.out += line;
    },
    err: (line) => {
      printed.err += line;
    },
  });
  return { code, ...printed };
}

describe("fourfast reduce", () => {
  test("prints one JSON object with --json and nothing on standard error", async () => {
    const { code, out, err } = await terminal(["one.csv", "--setup", "S.json", "--json"]);
    const json = JSON.parse(out);
    expect([code, err]).toEqual([0, ""]);
    expect(json.events[0].impulse_Ns).toBeCloseTo(11.8175, 1);
    expect(json.events[0].warnings).toEqual([]);
  });

  test("prints a table for a person", async () => {
    const { code, out } = await terminal(["one.csv", "--setup=S.json"]);
    expect(code).toBe(0);
    expect(out).toContain("event 1: total impulse 11.82");
    expect(out).toContain("what each correction added");
    expect(out).toContain("assumed, being left out of the setup");
  });

  test("takes water, pressure, bottle and channels from the run that the record belongs to", async () => {
    const { code, out } = await terminal(["one.csv", "--run", "H01.run", "--json"]);
    expect(code).toBe(0);
    expect(JSON.parse(out).events[0].impulse_Ns).toBeCloseTo(11.8175, 1);
    const other = await terminal(["one.csv", "--run", "S.json"]);
    expect([other.code, other.err]).toEqual([
      1,
      expect.stringContaining("run-file-unknown at S.json, line 1"),
    ]);
  });

  test("exits with 1 where nothing happened, the empty list and the issue in the answer", async () => {
    const { code, out, err } = await terminal(["none.csv", "--setup", "S.json", "--json"]);
    const json = JSON.parse(out);
    expect([code, json.events, json.issues[0].code]).toEqual([1, [], "no-event-found"]);
    expect(err).toContain("no-event-found");
  });

  test("exits with 1 and every issue of setup and file at once", async () => {
    const { code, out } = await terminal(["missing.csv", "--setup", "bad.json", "--json"]);
    const found = JSON.parse(out).issues.map((i: { code: string }) => i.code);
    expect(code).toBe(1);
    expect(found).toEqual(["key-unknown", "out-of-range", "file-unreadable"]);
  });

  test("exits with 1 on a file that is none", async () => {
    const { code, err } = await terminal(["empty.csv", "--setup", "S.json"]);
    expect([code, err]).toEqual([1, expect.stringContaining("file-empty at file")]);
  });

  test.each([
    [[], "needs a force file"],
    [["one.csv"], "needs --setup FILE or --run FILE"],
    [["one.csv", "--setup"], "--setup needs a file"],
    [["one.csv", "--setup", "S.json", "--run", "H01.run"], "not both"],
    [["one.csv", "two.csv", "--setup", "S.json"], "one force file, not 2"],
    [["one.csv", "--setup", "S.json", "--setup", "S.json"], "given twice"],
    [["one.csv", "--setup", "S.json", "--loud"], 'does not know "--loud"'],
  ])("exits with 2 and its help on wrong usage: %j", async (args, why) => {
    const { code, out, err } = await terminal(args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(why);
    expect(err).toContain(reduceHelp);
  });
});
