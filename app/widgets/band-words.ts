import { assert } from "../../core/assert.ts";
import type { Step } from "../../core/procedure/procedure.ts";
import { isVolumeUnit, readingValue } from "../../core/record/reading-value.ts";
import { shortNumber } from "../../core/units/value-text.ts";

export type Measure = Extract<Step["form"], { kind: "measure" }>;
type Shown = Pick<Measure, "quantity" | "unit">;
type Ends = Measure["band"];

/** Water is judged by its mass, poured or weighed: this much of a vessel's marks weighs about one of these. */
export const massUnitOf = (unit: string): string => (isVolumeUnit(unit) ? (unit === "L" ? "kg" : "g") : unit);

/** "599.2 g": a value in SI as the step's own instrument shows it; poured water by its mass. */
export const inUnit = (value: number, { quantity, unit }: Shown): string => {
  const shown = massUnitOf(unit);
  return `${shortNumber(value / oneOf(shown, quantity), 4)} ${shown}`.trim();
};

/** "440 to 460 g", "at most 0.05 bar", "any". */
export const bandWords = (form: Measure): string => {
  const unit = massUnitOf(form.unit);
  return endsWords(form.band, oneOf(unit, form.quantity), unit);
};

/** "440.8 to 460.8 mL": what a band of water is on a vessel's marks at this temperature, as typed; undefined where that cannot be read. */
export const vesselBandWords = (band: Ends, unit: string, temperature: string): string | undefined => {
  const typed = { typed: "1", unit, temperature, temperatureUnit: "°C", instrument: "" };
  const one_kg = readingValue({ kind: "volume", ...typed }, "water");
  return one_kg.ok ? endsWords(band, one_kg.value, unit) : undefined;
};

const endsWords = ({ min, max }: Ends, one: number, unit: string): string => {
  const shown = (value: number) => shortNumber(value / one, 4);
  if (min === undefined && max === undefined) return "any";
  const ends =
    min === undefined
      ? `at most ${shown(max!)}`
      : max === undefined
        ? `at least ${shown(min)}`
        : `${shown(min)} to ${shown(max)}`;
  return `${ends} ${unit}`.trim();
};

/** One of a unit in SI. */
const oneOf = (unit: string, quantity: Shown["quantity"]): number => {
  const one = readingValue({ kind: "single", typed: "1", unit, instrument: "" }, quantity);
  assert(one.ok, "a step's unit can be read: no procedure that fails measure-readable is run");
  return one.value;
};
