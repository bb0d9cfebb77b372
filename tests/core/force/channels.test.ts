import { describe, expect, test } from "vitest";
import { parseSetup } from "../../../core/exchange/setup.ts";
import { readForceFile } from "../../../core/force/force-file.ts";
import { buildTrace } from "../../../core/force/trace.ts";

const conditions = { water_kg: 0.6, setPressure_Pa: 3e5, bottleVolume_m3: 0.0015, openingDiameter_m: 0.0217 };
const wave = (k: number, c: number) => (9 * Math.sin(k / (2 + c))).toFixed(3);
const rows = (columns: number, withTime = true) =>
  Array.from({ length: 300 }, (_, k) =>
    Array.from({ length: columns }, (_, c) =>
      c === 0 && withTime ? (k / 1000).toFixed(4) : wave(k, c),
    ).join(","),
  ).join("\n");

function build(header: string, more: Record<string, unknown>, columns = 3, withTime = true) {
  const file = readForceFile(new TextEncoder().encode(`${header}\n${rows(columns, withTime)}\n`));
  const setup = parseSetup({ ...conditions, ...more }, "reduce");
  if (!file.ok || !setup.ok) throw new Error("the test's own file or setup is refused");
  return buildTrace(file.value, setup.value.setup);
}

const codes = (result: ReturnType<typeof build>) => (result.ok ? [] : result.issues.map((i) => i.code));
const factors = (result: ReturnType<typeof build>) =>
  result.ok ? result.value.trace.channels.map((c) => [c.name, c.plan.toNewton]) : codes(result);

describe("channels", () => {
  test.each([
    ["the whole header", ["north (N)", "south (N)"]],
    ["the name alone, case and blanks aside", ["North", " south "]],
    ["the name with another notation of the unit", ["north_N", "south [N]"]],
    ["the number, counting every column", [2, 3]],
  ])("are found by %s", (_how, columns) => {
    const result = build("time (s),north (N),south (N)", { channels: columns.map((column) => ({ column })) });
    expect(factors(result)).toEqual([
      ["north", 1],
      ["south", 1],
    ]);
  });

  test("take the setup's unit before the header's, and its sign", () => {
    const channels = [{ column: "north", unit: "kgf", sign: -1 }, { column: "south" }];
    expect(factors(build("time_s,north_lbf,south_lbf", { channels }))).toEqual([
      ["north", -9.80665],
      ["south", 4.4482216152605],
    ]);
  });

  test("turn charge and voltage into force by a sensitivity in the header, the setup or a leading line", () => {
    const result = build("time_s,north [mV] 112.4 mV/N,south_pC", {
      channels: [{ column: 2 }, { column: 3, unit: "43.2 pC/N" }],
    });
    const [north, south] = factors(result) as [string, number][];
    expect(north![1]).toBeCloseTo(1 / 112.4, 12);
    expect(south![1]).toBeCloseTo(1 / 43.2, 12);
    const line = build(
      "# sensitivity north 20 mV/N\n# sensitivity south 25 mV/N\ntime_s,north_mV,south_mV",
      {},
    );
    expect((factors(line) as [string, number][]).map(([, f]) => f)).toEqual([0.05, 0.04]);
  });

  test("are every force column where the setup names none, a sum left out", () => {
    const result = build("time_s,north_N,south_N,Sum_N", {}, 4);
    expect(factors(result).map((f) => (f as [string, number])[0])).toEqual(["north", "south"]);
    expect(result.ok && result.value.assumed["channels"]).toHaveLength(2);
  });

  test("may be the sum alone", () => {
    expect(factors(build("time_s,north_N,south_N,Sum_N", { channels: [{ column: "Sum" }] }, 4))).toEqual([
      ["Sum", 1],
    ]);
  });

  test.each([
    ["no such header", { channels: [{ column: "east" }] }, "time_s,north_N,south_N", ["column-missing"]],
    ["no such number", { channels: [{ column: 7 }] }, "time_s,north_N,south_N", ["column-missing"]],
    [
      "a header that stands twice",
      { channels: [{ column: "load" }] },
      "time_s,load_N,load_N",
      ["column-ambiguous"],
    ],
    [
      "one column under two names",
      { channels: [{ column: "north" }, { column: 2 }] },
      "time_s,north_N,south_N",
      ["channel-repeated"],
    ],
    [
      "parts and their sum",
      { channels: [{ column: "north" }, { column: "south" }, { column: "Sum" }] },
      "time_s,north_N,south_N,Sum_N",
      ["sum-counted-twice"],
    ],
    ["no unit anywhere", {}, "time_s,north,south", ["unit-unknown", "unit-unknown"]],
    [
      "a unit of something else",
      { channels: [{ column: "north" }] },
      "time_s,north_bar,south_N",
      ["unit-not-force"],
    ],
    [
      "a word that is no unit",
      { channels: [{ column: "north", unit: "stone" }] },
      "time_s,north_N,south_N",
      ["unit-unknown"],
    ],
    [
      "a voltage without a sensitivity",
      { channels: [{ column: "north" }] },
      "time_s,north_mV,south_N",
      ["sensitivity-unknown"],
    ],
    ["nothing but a time", {}, "time_s,pressure_bar,temperature", ["no-force-column"]],
  ])("with %s are refused: %s", (_why, more, header, expected) => {
    const result = build(header, more, header.split(",").length);
    expect(codes(result)).toEqual(expected);
  });

  test("with several faults list them all", () => {
    const channels = [{ column: "north" }, { column: "east" }, { column: 9 }];
    expect(codes(build("time_s,north_bar,south_N", { channels }))).toEqual([
      "unit-not-force",
      "column-missing",
      "column-missing",
    ]);
  });
});

describe("the rate", () => {
  const channels = [{ column: 1 }, { column: 2 }];
  const rate = (result: ReturnType<typeof build>) => (result.ok ? result.value.trace.rate_Hz : codes(result));

  test("is the setup's, before the times and the leading lines", () => {
    expect(rate(build("# rate 5 kHz\ntime_s,north_N,south_N", { sampleRate_Hz: 2000 }))).toBe(2000);
  });

  test("is the times', before the leading lines", () => {
    expect(rate(build("# rate 5 kHz\ntime_s,north_N,south_N", {}))).toBeCloseTo(1000, 6);
  });

  test("is the leading line's where there are no times, and is echoed", () => {
    const result = build("# rate 1.652 kHz\nnorth_N,south_N", { channels }, 2, false);
    expect(rate(result)).toBe(1652);
    expect(result.ok && result.value.assumed["sampleRate_Hz"]).toBe(1652);
  });

  test("is not guessed from other frequencies", () => {
    expect(rate(build("# filter 1 kHz\nnorth_N,south_N", { channels }, 2, false))).toEqual(["rate-unknown"]);
  });

  test("is refused where two lines state two", () => {
    const header = "# rate 1 kHz\n# sampling 2 kHz\nnorth_N,south_N";
    expect(rate(build(header, { channels }, 2, false))).toEqual(["rate-contradicts"]);
  });

  test("of times without a unit takes the unit that gives a rate recorders have, and says so", () => {
    const result = build("time,north_N,south_N", {});
    expect([rate(result), result.ok && result.value.assumed["timeUnit"]]).toEqual([
      expect.closeTo(1000, 6),
      "s",
    ]);
  });
});
