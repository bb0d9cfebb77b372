import type { Quantity } from "../procedure/procedure.ts";
import { waterDensity_kg_m3, waterTemperatureRange_C } from "../propulsion/water-density.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import type { Reading } from "./reading.ts";

/** Units in which people read their instruments, to SI. Exact where defined so: NIST SP 811, App. B. */
const TO_SI: { readonly [Q in Quantity]: { readonly [unit: string]: number } } = {
  water: { kg: 1, g: 1e-3, L: 1e-3, mL: 1e-6 },
  pressure: { Pa: 1, kPa: 1e3, bar: 1e5, psi: 4.4482216152605 / 0.0254 ** 2 },
  temperature: { "°C": 1 },
  force: { N: 1, kgf: 9.80665, lbf: 4.4482216152605 },
  duration: { s: 1, min: 60 },
  count: { "": 1 },
};

/** Plain digits with one decimal mark, comma or point; nothing that a keyboard slip can make. */
const NUMBER = /^[+-]?\d{1,9}(?:[.,]\d{1,6})?$/;

const number = (typed: string, where: string): Result<number> =>
  NUMBER.test(typed.trim())
    ? ok(Number(typed.trim().replace(",", ".")))
    : failed(
        issue(
          "reading-not-a-number",
          where,
          `"${typed}" is not a plain number`,
          "Type digits, with a point or a comma.",
        ),
      );

const factor = (quantity: Quantity, unit: string): Result<number> => {
  // Own keys only: every object also answers to "constructor".
  const found = Object.hasOwn(TO_SI[quantity], unit) ? TO_SI[quantity][unit] : undefined;
  if (found !== undefined) return ok(found);
  const known = Object.keys(TO_SI[quantity]).join(", ");
  return failed(
    issue("reading-unit-unknown", "unit", `"${unit}" is no unit of ${quantity}`, `Use one of: ${known}.`),
  );
};

const scaled = (quantity: Quantity, typed: string, unit: string, where: string): Result<number> => {
  const value = number(typed, where);
  const scale = factor(quantity, unit);
  if (value.ok && scale.ok) return ok(value.value * scale.value);
  return failed(...(value.ok ? [] : value.issues), ...(scale.ok ? [] : scale.issues));
};

const byDifference = (reading: Extract<Reading, { kind: "difference" }>): Result<number> => {
  const gross = scaled("water", reading.gross, reading.unit, "gross");
  const tare = scaled("water", reading.tare, reading.unit, "tare");
  if (!gross.ok || !tare.ok)
    return failed(...(gross.ok ? [] : gross.issues), ...(tare.ok ? [] : tare.issues));
  if (gross.value > tare.value) return ok(gross.value - tare.value);
  const remedy = "Weigh with the water first, then without, on the same scale.";
  return failed(
    issue("reading-tare-too-large", "tare", "the empty weight is not less than the full one", remedy),
  );
};

const byVolume = (reading: Extract<Reading, { kind: "volume" }>): Result<number> => {
  const volume_m3 = scaled("water", reading.typed, reading.unit, "volume");
  const temperature_C = scaled("temperature", reading.temperature, reading.temperatureUnit, "temperature");
  if (!volume_m3.ok || !temperature_C.ok)
    return failed(
      ...(volume_m3.ok ? [] : volume_m3.issues),
      ...(temperature_C.ok ? [] : temperature_C.issues),
    );
  const { least, greatest } = waterTemperatureRange_C;
  if (temperature_C.value >= least && temperature_C.value <= greatest)
    return ok(volume_m3.value * waterDensity_kg_m3(temperature_C.value));
  const detail = `water at ${reading.temperature} °C is outside ${least} to ${greatest} °C`;
  return failed(issue("reading-temperature-outside", "temperature", detail, "Read the thermometer again."));
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
      return scaled(quantity, reading.typed, reading.unit, "reading");
    case "difference":
      return byDifference(reading);
    case "volume":
      return byVolume(reading);
  }
};
