import { expect, test } from "vitest";
import { Desk } from "../../../app/bench/desk.ts";
import { termRuns } from "../../../app/demo/term/term.ts";
import { writeRunFile } from "../../../core/exchange/run-file.ts";
import { deskPorts } from "./desk-ports.ts";

const [first] = [...termRuns()];
const text = (() => {
  const written = writeRunFile({
    run: first!.plan.code,
    log: first!.log,
    ...first!.documents,
    entries: first!.entries,
  });
  if (!written.ok) throw new Error(JSON.stringify(written.issues));
  return written.value;
})();
const asFile = (of: string, name = "run.txt") => ({ name, bytes: new Blob([of]) });

test("a run file comes in with its conditions, and again without doubling", async () => {
  const desk = new Desk(deskPorts());
  await desk.takeIn([asFile(text)]);
  await desk.takeIn([asFile(text, "again.txt")]);
  expect(desk.rejected.value).toEqual([]);
  expect(desk.runs.value).toMatchObject([
    { code: "H-280-01", synthetic: true, drill: false, crew: "P", set_Pa: 250_000, doubts: [] },
  ]);
  expect(desk.runs.value[0]!.water_kg).toBeCloseTo(0.75, 2);
});

test.each([
  [
    "edited in its tenth line",
    text
      .split("\n")
      .map((line, i) => (i === 9 ? line.replace(/"at":\d+/, '"at":5') : line))
      .join("\n"),
    "line 10",
  ],
  ["cut in the middle of a line", text.slice(0, text.length / 2), "line"],
  ["without its last entry", `${text.trimEnd().split("\n").slice(0, -1).join("\n")}\n`, "the end"],
])("a run file %s is refused with its place, and nothing of it is kept", async (_what, edited, where) => {
  const desk = new Desk(deskPorts());
  await desk.takeIn([asFile(edited, "bad.txt")]);
  expect(desk.runs.value).toEqual([]);
  const [rejected] = desk.rejected.value;
  expect(rejected!.name).toBe("bad.txt");
  expect(rejected!.issues.some((one) => one.where.includes(where))).toBe(true);
  desk.dismiss(rejected!.id);
  expect(desk.rejected.value).toEqual([]);
});

test("a run file and its record may be brought in either order", async () => {
  const record = "# run H-280-01\ntime_s,north_N,south_N\n0,0,0\n0.001,0,0\n0.002,0,0\n0.003,0,0\n";
  const desk = new Desk(deskPorts());
  await desk.takeIn([asFile(record, "rec.csv"), asFile(text)]);
  expect(desk.runs.value.length).toBe(1);
  expect(desk.files.value.map(({ name }) => name)).toEqual(["rec.csv"]);
  expect(desk.files.value[0]!.outcome?.request.ok).toBe(true);
});
