import { expect, test } from "vitest";
import type { Reading } from "../../../core/record/reading.ts";
import { isUnitOf, isVolumeUnit, readingValue } from "../../../core/record/reading-value.ts";

const single = (typed: string, unit: string): Reading => ({ kind: "single", typed, unit, instrument: "x" });
const value = (reading: Reading, quantity: Parameters<typeof readingValue>[1]): number => {
  const read = readingValue(reading, quantity);
  if (!read.ok) throw new Error(JSON.stringify(read.issues));
  return read.value;
};
const codes = (reading: Reading, quantity: Parameters<typeof readingValue>[1]): readonly string[] => {
  const read = readingValue(reading, quantity);
  return read.ok ? [] : read.issues.map(({ code, where }) => `${code} at ${where}`);
};

test("units mean what NIST SP 811 says, with a comma or a point", () => {
  expect(value(single("3,0", "bar"), "pressure")).toBe(300_000);
  // 1 psi = 6894.757 Pa, NIST SP 811 Appendix B.8, remembered.
  expect(value(single("1", "psi"), "pressure")).toBeCloseTo(6894.757, 3);
  expect(value(single("600", "g"), "water")).toBeCloseTo(0.6, 12);
  expect(value(single("0.6", "kg"), "water")).toBe(0.6);
  expect(value(single("-5", "°C"), "temperature")).toBe(-5);
  expect(value(single("2", "min"), "duration")).toBe(120);
});

test.each(["", "3 bar", "1e3", "0x10", "3.", ".5", "1.2.3", "NaN", "1234567890"])(
  "%j is no plain number",
  (typed) => {
    expect(codes(single(typed, "bar"), "pressure")).toEqual(["reading-not-a-number at reading"]);
  },
);

test("an unknown unit and an unreadable number are both said", () => {
  expect(codes(single("x", "atm"), "pressure")).toEqual([
    "reading-not-a-number at reading",
    "reading-unit-unknown at unit",
  ]);
});

test("water by difference is the full weight less the empty one", () => {
  const weighed = (gross: string, tare: string, unit = "g"): Reading => ({
    kind: "difference",
    gross,
    tare,
    unit,
    instrument: "scale",
  });
  expect(value(weighed("648", "48"), "water")).toBeCloseTo(0.6, 12);
  expect(codes(weighed("48", "648"), "water")).toEqual(["reading-tare-too-large at tare"]);
  expect(codes(weighed("48", "48"), "water")).toEqual(["reading-tare-too-large at tare"]);
  expect(codes(weighed("x", "y"), "water")).toEqual([
    "reading-not-a-number at gross",
    "reading-not-a-number at tare",
  ]);
  expect(codes(weighed("648", "y"), "water")).toEqual(["reading-not-a-number at tare"]);
  expect(codes(weighed("x", "48"), "water")).toEqual(["reading-not-a-number at gross"]);
});

test("water by volume takes its density from the temperature", () => {
  const poured = (typed: string, temperature: string): Reading => ({
    kind: "volume",
    typed,
    unit: "mL",
    temperature,
    temperatureUnit: "°C",
    instrument: "cylinder",
  });
  // 998.2 kg/m3 at 20 °C, common tables, remembered.
  expect(value(poured("600", "20"), "water")).toBeCloseTo(0.59892, 4);
  expect(codes(poured("600", "90"), "water")).toEqual(["reading-temperature-outside at temperature"]);
  expect(codes(poured("600", "-9"), "water")).toEqual(["reading-temperature-outside at temperature"]);
  expect(codes(poured("x", "y"), "water")).toEqual([
    "reading-not-a-number at volume",
    "reading-not-a-number at temperature",
  ]);
  expect(codes(poured("600", "y"), "water")).toEqual(["reading-not-a-number at temperature"]);
  expect(codes(poured("x", "20"), "water")).toEqual(["reading-not-a-number at volume"]);
});

test("a vessel's marks are litres of 1e-3 m³ and millilitres of 1e-6 m³, and become kg by their temperature", () => {
  // Density of water, kg/m3: 999.97 at 4 °C, 998.21 at 20 °C, 992.2 at 40 °C; common tables, remembered.
  const poured = (typed: string, unit: string, temperature: string): Reading => ({
    kind: "volume",
    typed,
    unit,
    temperature,
    temperatureUnit: "°C",
    instrument: "graduated vessel",
  });
  expect(value(poured("1", "L", "4"), "water")).toBeCloseTo(0.99997, 5);
  expect(value(poured("1000", "mL", "4"), "water")).toBeCloseTo(0.99997, 5);
  expect(value(poured("450", "mL", "20"), "water")).toBeCloseTo(0.44919, 5);
  expect(value(poured("0,45", "L", "40"), "water")).toBeCloseTo(0.45 * 0.9922, 4);
});

test("a weight is never in a vessel's unit, nor a vessel's marks in one of weight", () => {
  const unknown = ["reading-unit-unknown at unit"];
  const weighed = { kind: "difference", gross: "498", tare: "48", instrument: "scale" } as const;
  const poured = { kind: "volume", typed: "450", temperature: "20", temperatureUnit: "°C" } as const;
  for (const unit of ["mL", "L"]) {
    expect(codes(single("450", unit), "water")).toEqual(unknown);
    expect(new Set(codes({ ...weighed, unit }, "water"))).toEqual(new Set(unknown));
  }
  for (const unit of ["g", "kg", "toString"])
    expect(codes({ ...poured, unit, instrument: "jug" }, "water")).toEqual(unknown);
});

test("litres and millilitres are the units of water that is poured, and of nothing else", () => {
  expect(["mL", "L", "g", "kg", "bar", "constructor"].filter(isVolumeUnit)).toEqual(["mL", "L"]);
  const ofWater = ["mL", "L", "g", "kg", "bar", "", "constructor"].filter((unit) => isUnitOf(unit, "water"));
  expect(ofWater).toEqual(["mL", "L", "g", "kg"]);
  for (const quantity of ["pressure", "temperature", "force", "duration", "count"] as const)
    expect(["mL", "L", "g", "constructor"].filter((unit) => isUnitOf(unit, quantity))).toEqual([]);
});

test("what is weighed or poured is water, never a pressure", () => {
  const weighed: Reading = { kind: "difference", gross: "3", tare: "1", unit: "bar", instrument: "line" };
  expect(codes(weighed, "pressure")).toEqual(["reading-kind-wrong at kind"]);
});
