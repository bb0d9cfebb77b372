import type { Rig } from "../rig/rig.ts";
import { unitNamed } from "../units/units.ts";
import { shortNumber } from "../units/value-text.ts";
import { type Band, PHASES, type Procedure, type RigNumber, type Step } from "./procedure.ts";

/**
 * A procedure may leave two numbers to the rig: the water and the set pressure. It then serves every
 * shot of a test matrix unchanged, with one approval, instead of a copy for each level.
 */

/** A stand as its people wrote it. */
export type WrittenDocuments = { readonly rig: Rig; readonly written: Procedure };

/** The rig's own fill and set pressure, each with the tolerance that its owner allows; SI. */
export const rigBand = ({ fill, pressure }: Rig, number: RigNumber): Required<Omit<Band, "of">> => {
  const [middle, tolerance] =
    number === "water" ? [fill.water_kg, fill.tolerance_kg] : [pressure.set_Pa, pressure.tolerance_Pa];
  // A sum of decimal fractions has digits of its own: 0.6 + 0.01.
  const end = (value: number) => Number(value.toPrecision(12));
  return { min: end(middle - tolerance), max: end(middle + tolerance) };
};

const WATER_kg_m3 = 1000;

/** One of this unit in kg of water or in Pa; undefined where it measures something else. */
export const scaleOf = (number: RigNumber, word: string): number | undefined => {
  const unit = unitNamed(word);
  if (number === "pressure") return unit?.quantity === "pressure" ? unit.toSI : undefined;
  if (unit?.quantity === "mass") return unit.toSI;
  // A vessel is filled to a line: what its degrees change lies far inside any tolerance of a fill.
  return unit?.quantity === "volume" ? unit.toSI * WATER_kg_m3 : undefined;
};

/** "3.0 bar": as far as the tolerance goes, and no digit of the number lost. */
const spoken = (value: number, tolerance: number, unit: string, scale: number): string => {
  const decimals = Math.max(0, -Math.floor(Math.log10(tolerance / scale) + 1e-9));
  const short = shortNumber(value / scale, 4);
  const [, fraction = ""] = short.split(".");
  return `${fraction.length < decimals ? (value / scale).toFixed(decimals) : short} ${unit}`;
};

/** The unit that this step's instrument is read in, else the one that the procedure measures this quantity in. */
const unitOf = (procedure: Procedure, quantity: RigNumber, step: Step | undefined): string | undefined => {
  const asked = ({ form }: Step) =>
    form.kind === "measure" && form.quantity === quantity ? form.unit : undefined;
  const others = PHASES.flatMap((phase) => procedure.phases[phase].map(asked));
  return (step && asked(step)) ?? others.find((unit) => unit !== undefined);
};

/**
 * The rig's number as its crew reads it: "450 g", "2.5 bar".
 * @param step  whose instrument's unit is taken; without one, the unit that the procedure measures it in
 */
export const rigNumberWords = (procedure: Procedure, rig: Rig, number: RigNumber, step?: Step): string => {
  const { fill, pressure } = rig;
  const [value, tolerance, si] =
    number === "water"
      ? [fill.water_kg, fill.tolerance_kg, "kg"]
      : [pressure.set_Pa, pressure.tolerance_Pa, "Pa"];
  const unit = unitOf(procedure, number, step) ?? si;
  const scale = scaleOf(number, unit);
  return scale === undefined ? spoken(value, tolerance, si, 1) : spoken(value, tolerance, unit, scale);
};

const mapTexts = <T>(value: T, change: (text: string) => string): T => {
  if (typeof value === "string") return change(value) as T;
  if (Array.isArray(value)) return value.map((item) => mapTexts(item, change)) as T;
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, mapTexts(item, change)])) as T;
};

const inFigures = (rig: Rig, { of, ...own }: Band): Band =>
  of === undefined ? own : { ...rigBand(rig, of), ...own };

const withBand = (rig: Rig, step: Step): Step =>
  step.form.kind === "measure"
    ? { ...step, form: { ...step.form, band: inFigures(rig, step.form.band) } }
    : step;

/**
 * The procedure as a crew on this rig reads it: every band that is `of` the rig's number in figures,
 * a figure beside it in that end's place, and `{water}` and `{pressure}` in words with the unit in which
 * that step's instrument, or the procedure's own measure of it, is read.
 * @param written  may leave numbers to the rig, or state them; what it states is not touched
 */
export const withRigNumbers = (written: Procedure, rig: Rig): Procedure => {
  const read = (step: Step): Step =>
    withBand(
      rig,
      mapTexts(step, (text) =>
        text
          .replaceAll("{water}", () => rigNumberWords(written, rig, "water", step))
          .replaceAll("{pressure}", () => rigNumberWords(written, rig, "pressure", step)),
      ),
    );
  const phases = Object.fromEntries(PHASES.map((phase) => [phase, written.phases[phase].map(read)]));
  return { ...written, phases: phases as unknown as Procedure["phases"] };
};
