import { describe, expect, test } from "vitest";
import { readForceFile } from "../../../core/force/force-file.ts";
import { headerCell, sensitivityIn } from "../../../core/force/header-cell.ts";
import { statedRate } from "../../../core/force/stated-rate.ts";

const body = (columns: number, separator: string) =>
  Array.from({ length: 40 }, (_, k) =>
    Array.from({ length: columns }, (_, c) =>
      (c === 0 ? k / 1000 : Math.sin(k * (c + 1)) * 9).toFixed(4),
    ).join(separator),
  ).join("\n");

function read(header: readonly string[], columns = 3, separator = ",", names: readonly string[] = []) {
  const text = [...header, body(columns, separator)].join("\n");
  const result = readForceFile(new TextEncoder().encode(text), { names });
  if (!result.ok) throw new Error(result.issues.map((i) => i.code).join());
  return result.value;
}

const found = (file: ReturnType<typeof read>) => file.headers.map((h) => `${h.name}|${h.unit?.symbol ?? ""}`);

describe("a header cell", () => {
  test.each([
    ["north (N)", "north", "N"],
    ["north [N]", "north", "N"],
    ["north_N", "north", "N"],
    ["north / N", "north", "N"],
    ["north in kN", "north", "kN"],
    ["Force, lbf", "Force", "lbf"],
    ["Force lbf", "Force", "lbf"],
    ["Kraft {kN}", "Kraft", "kN"],
    ["north <mN>", "north", "mN"],
    ["north (Newton)", "north", "N"],
    ["load [kgf] x10", "load x10", "kgf"],
    ["time_s", "time", "s"],
    ["Zeit [ms]", "Zeit", "ms"],
    ["t (µs)", "t", "µs"],
    ["elapsed, min", "elapsed", "min"],
  ])("%s is a name and a unit", (text, name, symbol) => {
    const cell = headerCell(text);
    expect([cell.name, cell.unit?.symbol]).toEqual([name, symbol]);
  });

  test.each(["run_n", "Cell N", "channel S", "north", "Ch 1", "sensor_left"])("%s is only a name", (text) => {
    expect(headerCell(text)).toEqual({ name: text });
  });

  test("keeps milli and mega apart by their case", () => {
    expect(headerCell("a [mN]").unit?.toSI).toBe(1e-3);
    expect(headerCell("a [MN]").unit?.toSI).toBe(1e6);
  });

  test("carries a sensitivity beside its electrical unit", () => {
    const cell = headerCell("north (mV), 112.4 mV/N");
    expect([cell.name, cell.unit?.symbol]).toEqual(["north", "mV"]);
    expect(cell.sensitivity?.perNewton_SI).toBeCloseTo(0.1124, 15);
    expect(sensitivityIn("43,2 pC/N")?.perNewton_SI).toBeCloseTo(43.2e-12, 24);
    expect(sensitivityIn("10 mV/lbf")?.perNewton_SI).toBeCloseTo(0.01 / 4.4482216152605, 15);
  });
});

describe("column names", () => {
  test.each([
    ["plain", ["time_s,north_N,south_N"]],
    ["commented", ["# time_s,north_N,south_N"]],
    ["commented with a percent sign", ["% time_s, north_N, south_N"]],
    ["after words and a colon", ["# columns: time_s,north_N,south_N"]],
    ["behind other things on their line", ["# recorder B; run 7; time_s,north_N,south_N"]],
    ["behind other cells", ["# 2024-05-01, rate 1 kHz, time_s,north_N,south_N"]],
    ["in quotes", ['"time_s","north_N","south_N"']],
    ["above other comments", ["time_s,north_N,south_N", "# rate 1000 Hz", "# range 500 N"]],
    ["below other lines", ["Run 7, rig Heron, cloudy", "operator,AB", "time_s,north_N,south_N"]],
    ["with a row of units below", ["time,north,south", "s,N,N"]],
    ["with a row of units in brackets", ["time,north,south", "[s],[N],[N]"]],
    ["with a commented row of units", ["# time,north,south", "# units: s, N, N"]],
  ])("are found %s", (_how, header) => {
    expect(found(read(header))).toEqual(["time|s", "north|N", "south|N"]);
  });

  test("are found by the names that the setup gives", () => {
    const header = ["left bank, right bank, a third", "clock,alpha,beta"];
    expect(found(read(header, 3, ",", ["alpha", "beta"]))).toEqual(["clock|", "alpha|", "beta|"]);
  });

  test("take one unit that a line states for all forces", () => {
    expect(found(read(["# all forces in lbf", "time_s,left,right"]))).toEqual([
      "time|s",
      "left|lbf",
      "right|lbf",
    ]);
  });

  test("take the unit after a space where several share it", () => {
    expect(found(read(["time s,Force1 N,Force2 N"]))).toEqual(["time|s", "Force1|N", "Force2|N"]);
  });

  test("are numbers where the file names none", () => {
    expect(found(read([]))).toEqual(["column 1|", "column 2|", "column 3|"]);
  });
});

describe("roles", () => {
  const roles = (header: readonly string[], rows: readonly string[]) => {
    const result = readForceFile(new TextEncoder().encode([...header, ...rows].join("\n")));
    if (!result.ok) throw new Error(result.issues.map((i) => i.code).join());
    return result.value.roles;
  };
  const wave = (k: number, c: number) => 50 * Math.sin(k / (3 + c));
  const rows = (cells: (k: number) => readonly number[], digits = 3) =>
    Array.from({ length: 200 }, (_, k) =>
      cells(k)
        .map((x) => x.toFixed(digits))
        .join(","),
    );

  test("tell time, forces and their sum by name", () => {
    expect(
      roles(
        ["t [s],a [N],b [N],Sum [N]"],
        rows((k) => [k / 1e3, wave(k, 1), wave(k, 2), 0]),
      ),
    ).toEqual(["time", "force", "force", "sum"]);
  });

  test("tell a sum without a name by its numbers, to the rounding of the print", () => {
    const cells = (k: number) => [k / 1e3, wave(k, 1), wave(k, 2), wave(k, 1) + wave(k, 2)];
    expect(roles(["t,x,y,z"], rows(cells))).toEqual(["time", "force", "force", "sum"]);
  });

  test("do not take a third channel that is nearly the sum for one", () => {
    const cells = (k: number) => [
      k / 1e3,
      wave(k, 1),
      wave(k, 2),
      wave(k, 1) + wave(k, 2) + 0.02 * wave(k, 5),
    ];
    expect(roles(["t,x,y,z"], rows(cells))).toEqual(["time", "force", "force", "force"]);
  });

  test("tell a counter from a clock, and pressures and words from forces", () => {
    const counted = Array.from(
      { length: 100 },
      (_, k) => `${k},${wave(k, 1).toFixed(3)},${(3 + wave(k, 2)).toFixed(3)},ok`,
    );
    expect(roles(["sample,a [N],p [bar],state"], counted)).toEqual(["count", "force", "other", "words"]);
  });
});

describe("a stated rate", () => {
  test.each([
    ["% rate 1.652 kHz", 1652],
    ["# sampling 4000 Hz, anti-alias filter 1000 Hz", 4000],
    ["# filter 1000 Hz; sample rate: 4 kS/s", 4000],
    ["Sampling Rate (Hz),4000", 4000],
    ["# 2000 S/s sampling", 2000],
    ["sampleRate_Hz=1652", 1652],
    ["rate 10,000 Hz", 10_000],
    ["# rate 1,652 kHz", 1652],
    ["% Sample rate [kHz]: 5", 5000],
    ["# low-pass 500 Hz, rate = 1652.5Hz, range 500 N", 1652.5],
  ])("is read from %s", (line, rate) => {
    expect(statedRate([line], false).map((s) => s.rate_Hz)).toEqual([rate]);
  });

  test.each([
    "# resonance 155 Hz",
    "# calibrated at 50 Hz",
    "# rate as set, filter 500 Hz",
    "# generator 60 Hz",
    "# low-pass 500 Hz",
    "sampling every 1 ms",
    "# rated 500 N",
  ])("is not read from %s: other frequencies are never rates", (line) => {
    expect(statedRate([line], false)).toEqual([]);
  });

  test("reads a decimal comma where the rows have one", () => {
    expect(statedRate(["Abtastrate;2,500 kHz"], true).map((s) => s.rate_Hz)).toEqual([2500]);
  });
});
