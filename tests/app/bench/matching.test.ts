import { expect, test } from "vitest";
import { type CandidateRun, codesIn, type RecordFile, suggestMatches } from "../../../app/bench/matching.ts";

const minute_ms = 60_000;
const run = (code: string, at_min: number, water_kg = 0.6): CandidateRun => ({
  log: `log-${code}`,
  code,
  released_ms: at_min * minute_ms,
  water_kg,
});
const file = (
  name: string,
  weights: readonly (number | undefined)[],
  more: Partial<RecordFile> = {},
): RecordFile => ({
  digest: name,
  name,
  leading: [],
  firings: weights.map((weighed_kg, event) => ({
    file: name,
    event,
    onset_s: 1 + event,
    ...(weighed_kg !== undefined && { weighed_kg, weighedU_kg: 0.01 }),
  })),
  ...more,
});
const pairs = (found: ReturnType<typeof suggestMatches>) =>
  found.map(({ file, event, log }) => `${file}#${event}=${log.slice(4)}`).sort();

test("reads a code however it was typed, and not out of longer numbers", () => {
  expect(codesIn("h329-04.csv")).toEqual(["H-329-04"]);
  expect(codesIn("H_329_04 and H 329 05")).toEqual(["H-329-04", "H-329-05"]);
  expect(codesIn("H-329-204")).toEqual(["H-329-204"]);
  expect(codesIn("run 2025-11-25, serial AH3290412")).toEqual([]);
  expect(codesIn("H-400-01")).toEqual([]);
});

test("the code in the name wins over order and over conditions", () => {
  const runs = [run("H-329-01", 0, 0.45), run("H-329-02", 14, 0.75)];
  const files = [file("H-329-02.csv", [0.45]), file("H-329-01.csv", [0.75])];
  const found = suggestMatches(files, runs);
  expect(pairs(found)).toEqual(["H-329-01.csv#0=H-329-01", "H-329-02.csv#0=H-329-02"]);
  expect(found.every(({ evidence }) => evidence[0] === "code")).toBe(true);
});

test("a code in the header counts where the name has none", () => {
  const files = [file("rec-7.csv", [0.6], { leading: ["# run H-329-02"] })];
  expect(pairs(suggestMatches(files, [run("H-329-01", 0), run("H-329-02", 14)]))).toEqual([
    "rec-7.csv#0=H-329-02",
  ]);
});

test("two codes and two firings in one file belong together in order", () => {
  const files = [file("H-329-01+H-329-02.csv", [0.6, 0.6])];
  expect(pairs(suggestMatches(files, [run("H-329-02", 14), run("H-329-01", 0)]))).toEqual([
    "H-329-01+H-329-02.csv#0=H-329-01",
    "H-329-01+H-329-02.csv#1=H-329-02",
  ]);
});

test("without codes the water decides within the order, and a firing too many stays without a run", () => {
  const runs = [run("H-329-01", 0, 0.45), run("H-329-02", 14, 0.6), run("H-329-03", 28, 0.75)];
  const files = [file("r1", [0.452]), file("r2", [0.3]), file("r3", [0.598]), file("r4", [0.749])];
  const found = suggestMatches(files, runs);
  expect(pairs(found)).toEqual(["r1#0=H-329-01", "r3#0=H-329-02", "r4#0=H-329-03"]);
  expect(found.every(({ evidence }) => evidence.includes("water"))).toBe(true);
});

test("a run without a record does not push the others along", () => {
  const runs = [run("H-329-01", 0, 0.45), run("H-329-02", 14, 0.6), run("H-329-03", 28, 0.75)];
  expect(pairs(suggestMatches([file("r1", [0.45]), file("r2", [0.75])], runs))).toEqual([
    "r1#0=H-329-01",
    "r2#0=H-329-03",
  ]);
});

test("firings of one file are told apart by their spacing where the water is the same", () => {
  const runs = [run("H-329-01", 0), run("H-329-02", 2), run("H-329-03", 3)];
  const firings = [1, 61].map((onset_s, event) => ({
    file: "r",
    event,
    onset_s,
    weighed_kg: 0.6,
    weighedU_kg: 0.01,
  }));
  const found = suggestMatches([file("r", [], { firings })], runs);
  expect(pairs(found)).toEqual(["r#0=H-329-02", "r#1=H-329-03"]);
  expect(found[1]!.evidence).toContain("spacing");
});

test("names count up as people count: 2 comes before 10", () => {
  const files = [file("rec-10", [undefined]), file("rec-2", [undefined])];
  expect(pairs(suggestMatches(files, [run("H-329-01", 0), run("H-329-02", 14)]))).toEqual([
    "rec-10#0=H-329-02",
    "rec-2#0=H-329-01",
  ]);
});

test("a run that is already joined is not offered again", () => {
  expect(suggestMatches([file("r1", [0.6])], [run("H-329-01", 0)], new Set(["log-H-329-01"]))).toEqual([]);
});

test("a code of two years points at neither", () => {
  const twice = [run("H-329-01", 0), { ...run("H-329-01", 525_600), log: "log-later" }];
  const found = suggestMatches([file("H-329-01.csv", [undefined])], twice);
  expect(found.every(({ evidence }) => !evidence.includes("code"))).toBe(true);
});
