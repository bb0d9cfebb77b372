import type { Quantity } from "../procedure/procedure.ts";
import { waterDensity_kg_m3, waterTemperatureRange_C } from "../propulsion/water-density.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import type { Reading } from "./reading.ts";

type Units = { readonly [unit: string]: number };

/** Units in which people read their instruments, to SI. Exact where defined so: NIST SP 811, App. B. */
const TO_SI: { readonly [Q in Quantity]: Units } = {
  water: { kg: 1, g: 1e-3 },
  pressure: { Pa: 1, kPa: 1e3, bar: 1e5, psi: 4.4482216152605 / 0.0254 ** 2 },
  temperature: { "°C": 1 },
  force: { N: 1, kgf: 9.80665, lbf: 4.4482216152605 },
  duration: { s: 1, min: 60 },
  count: { "": 1 },
};

/** A vessel's marks, to m³; they become a mass only with the water's temperature. SI brochure, table 8. */
const VOLUME_m3: Units = { L: 1e-3, mL: 1e-6 };

// Own keys only: every object also answers to "constructor".
const named = (units: Units, unit: string): number | undefined =>
  Object.hasOwn(units, unit) ? units[unit] : undefined;

/** Water asked for in such a unit is poured, into a graduated vessel; in any other it is weighed. */
export const isVolumeUnit = (unit: string): boolean => named(VOLUME_m3, unit) !== undefined;

/** Whether a number of this quantity can be read in this unit. */
export const isUnitOf = (unit: string, quantity: Quantity): boolean =>
  named(TO_SI[quantity], unit) !== undefined || (quantity === "water" && isVolumeUnit(unit));

/** Plain digits with one decimal mark, comma or point; nothing that a keyboard slip can make. */
const NUMBER = /^[+-]?\d{1,9}(?:[.,]\d{1,6})?$/;

const number = (typed: string, where: string): Result<number> =>
  NUMBER.test(typed.trim())
    ? ok(Number(typed.trim().replace(",", ".")))
    : failed(
        issue("reading-not-a-number", where, `"${typed}" is no plain number`, "Type digits and one point."),
      );

const factor = (units: Units, unit: string, what: string): Result<number> => {
  const found = named(units, unit);
  if (found !== undefined) return ok(found);
  const remedy = `Use one of: ${Object.keys(units).join(", ")}.`;
  return failed(issue("reading-unit-unknown", "unit", `"${unit}" is no unit of ${what}`, remedy));
};

type Typed = { readonly typed: string; readonly unit: string; readonly where: string };

const scaled = (units: Units, what: string, { typed, unit, where }: Typed): Result<number> => {
  const value = number(typed, where);
  const scale = factor(units, unit, what);
  if (value.ok && scale.ok) return ok(value.value * scale.value);
  return failed(...(value.ok ? [] : value.issues), ...(scale.ok ? [] : scale.issues));
};

const byDifference = (reading: Extract<Reading, { kind: "difference" }>): Result<number> => {
  const { gross: full, tare: empty, unit } = reading;
  const gross = scaled(TO_SI.water, "weighed water", { typed: full, unit, where: "gross" });
  const tare = scaled(TO_SI.water, "weighed water", { typed: empty, unit, where: "tare" });
  if (!gross.ok || !tare.ok)
    return failed(...(gross.ok ? [] : gross.issues), ...(tare.ok ? [] : tare.issues));
  if (gross.value > tare.value) return ok(gross.value - tare.value);
  const remedy = "Weigh both again.";
  return failed(issue("reading-tare-too-large", "tare", "empty is not less than full", remedy));
};

const byVolume = (reading: Extract<Reading, { kind: "volume" }>): Result<number> => {
  const { typed, unit, temperature, temperatureUnit } = reading;
  const volume_m3 = scaled(VOLUME_m3, "poured water", { typed, unit, where: "volume" });
  const temperature_C = scaled(TO_SI.temperature, "temperature", {
    typed: temperature,
    unit: temperatureUnit,
    where: "temperature",
  });
  if (!volume_m3.ok || !temperature_C.ok)
    return failed(
      ...(volume_m3.ok ? [] : volume_m3.issues),
      ...(temperature_C.ok ? [] : temperature_C.issues),
    );
  const { least, greatest } = waterTemperatureRange_C;
  if (temperature_C.value >= least && temperature_C.value <= greatest)
    return ok(volume_m3.value * waterDensity_kg_m3(temperature_C.value));
  const detail = `${temperature} °C is outside ${least} to ${greatest} °C`;
  return failed(issue("reading-temperature-outside", "temperature", detail, "Read it again."));
};

/**
 * What a reading means in SI: kg of water, Pa gauge, °C, N, s, or a count.
 * @fails reading-not-a-number, reading-unit-unknown, reading-tare-too-large,
 *   reading-temperature-outside, reading-kind-wrong
 */
export const readingValue = (reading: Reading, quantity: Quantity): Result<number> => {
  if (reading.kind !== "single" && quantity !== "water") {
    const detail = `a ${quantity} cannot be read by ${reading.kind}`;
    return failed(issue("reading-kind-wrong", "kind", detail, "Read the instrument itself."));
  }
  switch (reading.kind) {
    case "single":
      return scaled(TO_SI[quantity], quantity === "water" ? "weighed water" : quantity, {
        ...reading,
        where: "reading",
      });
    case "difference":
      return byDifference(reading);
    case "volume":
      return byVolume(reading);
  }
};
