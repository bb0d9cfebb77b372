import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { ForceRequest, ForceSource } from "../../../app/ports.ts";
import { forceTasks } from "../../../app/worker/force-tasks.ts";
import { parseSetup } from "../../../core/exchange/setup.ts";
import { ordinaryCase } from "../../core/force/synthetic/ordinary.ts";
import { recordText } from "../../core/force/synthetic/text.ts";

const folder = new URL("../../records/", import.meta.url);
const records = JSON.parse(readFileSync(new URL("records.json", folder), "utf8"));
const sourceOf = (name: string): ForceSource => ({
  digest: name,
  bytes: new Blob([readFileSync(new URL(name, folder))]),
});
const requestFor = (json: unknown, options: ForceRequest["options"] = {}): ForceRequest => {
  const parsed = parseSetup(json, "reduce");
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return { reading: {}, setup: parsed.value.setup, options: { ...options, assumed: parsed.value.assumed } };
};
const silent = () => {};

/** The first case from this seed on with Heron's opening. */
function heronLike(seed: number) {
  for (let from = seed; ; from++) {
    const made = ordinaryCase(from, { channels: 2, rate_Hz: 4000 });
    if (made.conditions.opening_m === 0.0217) return made;
  }
}

const heron = records["heron-01.csv"];
const request = requestFor(heron.setup);

test("reads a file as far as a person needs to recognise it, with progress on the way", async () => {
  const parts: number[] = [];
  const read = await forceTasks().read({ source: sourceOf("heron-01.csv"), options: {} }, (part) =>
    parts.push(part),
  );
  expect(read.ok && read.value).toMatchObject({
    layout: { separator: ",", decimal: ".", columns: 3 },
    roles: ["time", "force", "force"],
    sample: [[0, -0.1562, 0.2282], expect.anything(), expect.anything(), expect.anything()],
  });
  expect(read.ok && "columns" in read.value).toBe(false);
  expect(parts.at(-1)).toBe(1);
});

test("reduces it to the impulse that is known, within 0.3 %, and nothing it gives carries samples", async () => {
  const reduced = await forceTasks().reduce({ source: sourceOf("heron-01.csv"), request }, silent);
  const truth = heron.truth.events[0].I_total;
  const [event] = reduced.ok ? reduced.value.events : [];
  expect(event!.report.impulse_Ns / truth).toBeGreaterThan(0.997);
  expect(event!.report.impulse_Ns / truth).toBeLessThan(1.003);
  expect(JSON.stringify(reduced).length).toBeLessThan(20_000);
  structuredClone(reduced);
});

test("another setting does not read the file again; another file does", async () => {
  const tasks = forceTasks();
  let reads = 0;
  const counted = (name: string): ForceSource => {
    const source = sourceOf(name);
    const stream = source.bytes.stream.bind(source.bytes);
    source.bytes.stream = () => {
      reads += 1;
      return stream();
    };
    return source;
  };
  const first = counted("heron-01.csv");
  await tasks.reduce({ source: first, request }, silent);
  await tasks.reduce({ source: first, request: requestFor(heron.setup, { off: ["weight"] }) }, silent);
  await tasks.curves(
    { source: first, request, view: { names: ["read"], from_s: 0, to_s: 3, columns: 100 } },
    silent,
  );
  expect(reads).toBe(1);
  const other = requestFor(records["heron-03-decimal-comma.csv"].setup);
  await tasks.reduce({ source: counted("heron-03-decimal-comma.csv"), request: other }, silent);
  expect(reads).toBe(2);
});

test("a correction that is switched off shows in the impulse by about what its layer says", async () => {
  const tasks = forceTasks();
  const source = sourceOf("heron-01.csv");
  const whole = await tasks.reduce({ source, request }, silent);
  const without = await tasks.reduce(
    { source, request: requestFor(heron.setup, { off: ["weight"] }) },
    silent,
  );
  if (!whole.ok || !without.ok) throw new Error("not reduced");
  const layer = whole.value.events[0]!.layers.find(({ correction }) => correction === "weight")!;
  const change = whole.value.events[0]!.report.impulse_Ns - without.value.events[0]!.report.impulse_Ns;
  expect(layer.added_Ns).toBeLessThan(-0.2);
  expect(Math.sign(change)).toBe(Math.sign(layer.added_Ns));
  expect(without.value.events[0]!.layers.find(({ correction }) => correction === "weight")!.on).toBe(false);
});

test("curves keep the greatest sample however few columns there are, and break between events", async () => {
  const tasks = forceTasks();
  const source = sourceOf("heron-01.csv");
  const view = (columns: number) => ({ names: ["read", "thrust"] as const, from_s: 0, to_s: 4, columns });
  const fine = await tasks.curves({ source, request, view: view(100_000) }, silent);
  const coarse = await tasks.curves({ source, request, view: view(50) }, silent);
  if (!fine.ok || !coarse.ok) throw new Error("no curves");
  for (const k of [0, 1]) {
    const greatest = (y: Float64Array) => Math.max(...y.filter((value) => !Number.isNaN(value)));
    expect(greatest(coarse.value[k]!.y)).toBe(greatest(fine.value[k]!.y));
    expect(coarse.value[k]!.x.length).toBeLessThan(300);
  }
  const [, thrust] = coarse.value;
  expect(Number.isNaN(thrust!.y.at(-1)!)).toBe(true);
});

test("a file without numbers, and one whose channels have no unit, are refused with their place", async () => {
  const refused = await forceTasks().read(
    { source: { digest: "y", bytes: new Blob(["no numbers\nat all\n"]) }, options: {} },
    silent,
  );
  expect(refused.ok ? [] : refused.issues.map(({ code }) => code)).toEqual(["no-numbers"]);
  const bare = { digest: "z", bytes: new Blob(["time,left\n0,1\n0.001,2\n0.002,3\n0.003,2\n"]) };
  const { channels: _channels, ...conditions } = heron.setup;
  const noUnit = await forceTasks().reduce({ source: bare, request: requestFor(conditions) }, silent);
  expect(noUnit.ok ? [] : noUnit.issues.map(({ code, where }) => [code, where])).toContainEqual([
    "unit-unknown",
    "line 1, column 2",
  ]);
});

test("a record made afresh from the physics is reduced to its own truth within 0.5 %", async () => {
  const made = heronLike(Number(process.env["SEED"] ?? 1));
  const source = { digest: "fresh", bytes: new Blob([recordText(made.record)]) };
  const reduced = await forceTasks().reduce({ source, request: requestFor(made.setup) }, silent);
  const [event] = reduced.ok ? reduced.value.events : [];
  expect(Math.abs(event!.report.impulse_Ns / made.shot.impulse_Ns - 1)).toBeLessThan(0.005);
});
