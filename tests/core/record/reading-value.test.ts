import { describe, expect, it } from "vitest";
import { readingValue } from "../../../core/record/reading-value.ts";

const single = (typed: string, unit: string) =>
  ({ kind: "single", typed, unit, instrument: "scale" }) as const;
const codes = (result: ReturnType<typeof readingValue>) =>
  result.ok ? [] : result.issues.map(({ code }) => code);
const siOf = (result: ReturnType<typeof readingValue>) => (result.ok ? result.value : undefined);

describe("readingValue", () => {
  it.each([
    ["3.0", "bar", 300_000],
    ["3,0", "bar", 300_000],
    ["43.5", "psi", 43.5 * 6894.757293168361],
    ["250", "kPa", 250_000],
  ])("reads %s %s as pascals", (typed, unit, pascals) => {
    expect(siOf(readingValue(single(typed, unit), "pressure"))).toBeCloseTo(pascals, 6);
  });

  it("takes the empty weight from the full one, on one scale", () => {
    const weighed = {
      kind: "difference",
      gross: "652.4",
      tare: "52.4",
      unit: "g",
      instrument: "scale",
    } as const;
    expect(siOf(readingValue(weighed, "water"))).toBeCloseTo(0.6, 12);
    expect(codes(readingValue({ ...weighed, tare: "700" }, "water"))).toEqual(["reading-tare-too-large"]);
  });

  it("makes a mass of a volume by its temperature", () => {
    const poured = {
      kind: "volume",
      typed: "600",
      unit: "mL",
      temperature: "20",
      temperatureUnit: "°C",
      instrument: "vessel",
    } as const;
    // Density of water at 20 °C, 998.2067 kg/m³: as given in the records of stand Heron.
    expect(siOf(readingValue(poured, "water"))).toBeCloseTo(600e-6 * 998.2067, 7);
    expect(codes(readingValue({ ...poured, temperature: "60" }, "water"))).toEqual([
      "reading-temperature-outside",
    ]);
  });

  it.each(["", "three", "1e3", "0x10", "1.2.3", "Infinity", "--1", "1 000"])(
    "refuses %j as a number",
    (typed) => {
      expect(codes(readingValue(single(typed, "bar"), "pressure"))).toEqual(["reading-not-a-number"]);
    },
  );

  it.each(["atm", "", "Bar", "constructor", "toString", "__proto__"])(
    "refuses %j as a unit of pressure",
    (unit) => {
      expect(codes(readingValue(single("3", unit), "pressure"))).toEqual(["reading-unit-unknown"]);
    },
  );

  it("lists number and unit at once", () => {
    expect(codes(readingValue(single("x", "y"), "force"))).toEqual([
      "reading-not-a-number",
      "reading-unit-unknown",
    ]);
  });
});
