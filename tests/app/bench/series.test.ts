import { beforeAll, expect, test } from "vitest";
import { Desk } from "../../../app/bench/desk.ts";
import { firingsOf } from "../../../app/bench/desk-lists.tsx";
import { runJson, seriesCsv } from "../../../app/bench/export.ts";
import { curvesSpec } from "../../../app/bench/series-curves.ts";
import { levelsOf, type SeriesRow, seriesRows } from "../../../app/bench/series-rows.ts";
import { demoTerm } from "../../../app/demo/term/term.ts";
import { readMatrixText } from "../../../core/plan/matrix-file.ts";
import { precisionOf } from "../../../core/series/crew-effects.ts";
import { outlierTest } from "../../../core/series/outlier-test.ts";
import { deskPorts } from "./desk-ports.ts";

const ports = deskPorts();
const desk = new Desk(ports);
let rows: readonly SeriesRow[] = [];

beforeAll(async () => {
  await desk.takeInTerm(demoTerm);
  await desk.joinCoded();
  rows = seriesRows(desk);
}, 120_000);

test("24 runs at six planned levels, four at each, oldest first", () => {
  expect(rows.length).toBe(24);
  expect(levelsOf(rows)).toEqual([
    "450 g, 2.5 bar",
    "450 g, 3.0 bar",
    "600 g, 2.5 bar",
    "600 g, 3.0 bar",
    "750 g, 2.5 bar",
    "750 g, 3.0 bar",
  ]);
  for (const level of levelsOf(rows)) expect(rows.filter((row) => row.level === level).length).toBe(4);
  expect(rows[0]!.run.code).toBe("H-280-01");
});

test("the crew that reads its gauge from the side stands out, and the leaked run is the one outlier", () => {
  const means = ["P", "Q", "R", "S"].map((crew) => {
    const own = rows.filter(({ run }) => run.crew === crew && run.code !== "H-287-04");
    return own.reduce((sum, { ratio }) => sum + ratio, 0) / own.length;
  });
  expect(means.indexOf(Math.min(...means))).toBe(2);
  const found = outlierTest(rows.map(({ ratio }) => ratio));
  expect(found.ok && [rows[found.value.suspect]!.run.code, found.value.isOutlier]).toEqual([
    "H-287-04",
    true,
  ]);
  const kept = rows.filter(({ run }) => run.code !== "H-287-04");
  const crews = ["P", "Q", "R", "S"].map((crew) => ({
    crew,
    values: kept.filter(({ run }) => run.crew === crew).map(({ ratio }) => ratio),
  }));
  const precision = precisionOf(crews);
  expect(precision.ok && precision.value.p).toBeLessThan(0.05);
});

test("each pressure has one predicted line with its band, and every run its point inside the picture", () => {
  const spec = curvesSpec(rows);
  const kinds = spec.marks.map(({ kind }) => kind);
  expect(kinds.filter((kind) => kind === "band").length).toBe(2);
  const points = spec.marks.flatMap((mark) => (mark.kind === "points" ? [...mark.y] : []));
  expect(points.length).toBe(24);
  const [low, high] = spec.y.domain!;
  for (const y of points) expect(y > low && y < high).toBe(true);
});

test("the series leaves as CSV in SI with one line a run, marked SYNTHETIC", () => {
  const [head, ...lines] = seriesCsv(rows).trimEnd().split("\r\n");
  expect(head!.split(",").slice(0, 4)).toEqual(["run", "opened", "crew", "water_kg"]);
  expect(lines.length).toBe(24);
  for (const line of lines) expect(line.endsWith(",true")).toBe(true);
});

test("a run leaves with all that its numbers rest on, and the same again gives the same bytes", () => {
  const [{ run }] = rows as [SeriesRow];
  const json = runJson(run, firingsOf(desk, run.log));
  expect(runJson(run, firingsOf(desk, run.log))).toBe(json);
  const read = JSON.parse(json);
  expect(read).toMatchObject({ format: "fourfast-result", synthetic: true, run: { code: "H-280-01" } });
  expect(read.records[0].file.sha256).toMatch(/^[0-9a-f]{64}$/);
  expect(read.records[0].result.impulse_Ns).toBe(rows[0]!.impulse_Ns);
  expect(read.records[0].request.setup.water_kg).toBe(rows[0]!.setup.water_kg);
});

test("the term brings the matrix that it was planned by, for the plan to show", async () => {
  const list = await ports.files.list();
  const found = list.ok ? list.value.find(({ name }) => name === "matrix-heron.json") : undefined;
  const file = found && (await ports.files.get(found.digest));
  const matrix = file?.ok ? readMatrixText(new TextDecoder().decode(file.value.bytes)) : undefined;
  expect(matrix?.ok && [matrix.value.synthetic, matrix.value.matrix.slots.length]).toEqual([true, 24]);
});
