import type { Step } from "../../../core/procedure/procedure.ts";
import type { Reading } from "../../../core/record/reading.ts";
import type { Act, SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { COLD, LIVE } from "./evidence.ts";
import type { Documents } from "./memory.ts";

/** The model's own reading of numbers: only the units that its documents use, everything else unreadable. */

const PASCALS: { readonly [unit: string]: number } = {
  Pa: 1,
  kPa: 1000,
  bar: 100_000,
  psi: 6894.757293168362,
};
const TO_SI: { readonly [quantity: string]: { readonly [unit: string]: number } } = {
  pressure: PASCALS,
  water: { kg: 1, g: 0.001 },
  temperature: { "°C": 1 },
  force: { N: 1 },
  duration: { s: 1, min: 60 },
  count: { "": 1 },
};

const digits = (typed: string): number | undefined =>
  /^[+-]?\d{1,9}([.,]\d{1,6})?$/.test(typed.trim()) ? Number(typed.trim().replace(",", ".")) : undefined;

export const readValue = (reading: Reading, quantity: string): number | undefined => {
  const scale = TO_SI[quantity]?.[reading.unit];
  if (reading.kind === "single") {
    const value = digits(reading.typed);
    return value === undefined || scale === undefined ? undefined : value * scale;
  }
  if (quantity !== "water") return undefined;
  // Water by a vessel: its mass to a thousandth, near enough for the bands of these documents.
  if (reading.kind === "volume") {
    const litres = digits(reading.typed);
    const celsius = digits(reading.temperature);
    const perUnit = { mL: 0.001, L: 1 }[reading.unit];
    if (litres === undefined || celsius === undefined || perUnit === undefined) return undefined;
    if (celsius < 0 || celsius > 40) return undefined;
    return litres * perUnit * (1 - 0.0000065 * (celsius - 4) ** 2);
  }
  const gross = digits(reading.gross);
  const tare = digits(reading.tare);
  if (gross === undefined || tare === undefined || scale === undefined || gross <= tare) return undefined;
  return (gross - tare) * scale;
};

const BY_ID = new WeakMap<object, ReadonlyMap<string, Step>>();

export const stepCalled = ({ procedure }: Documents, id: string): Step | undefined => {
  let steps = BY_ID.get(procedure);
  if (!steps) {
    steps = new Map(Object.values(procedure.phases).flatMap((phase) => phase.map((step) => [step.id, step])));
    BY_ID.set(procedure, steps);
  }
  return steps.get(id);
};

export const stepsIn = ({ procedure }: Documents, state: string): readonly Step[] =>
  (procedure.phases as { readonly [phase: string]: readonly Step[] | undefined })[state] ?? [];

const side = ({ rig }: Documents, gauge: string): string | undefined =>
  gauge === rig.supply.gauge ? "supply" : rig.gauges.find(({ id }) => id === gauge)?.side;

/** Whether an answered step was answered well. */
export const answeredWell = (
  docs: Documents,
  step: Step,
  event: Extract<SequenceEvent, { type: "step-done" }>,
): boolean => {
  const { form } = step;
  if (form.kind === "look")
    return form.answers.filter(({ good }) => good).some(({ text }) => text === event.answer);
  if (form.kind !== "measure") return true;
  const value = event.reading ? readValue(event.reading, form.quantity) : undefined;
  if (value === undefined) return false;
  if (form.band.min !== undefined && value < form.band.min) return false;
  if (form.band.max !== undefined && value > form.band.max) return false;
  const bottleSide = form.quantity === "pressure" && side(docs, form.instrument) !== "supply";
  return !bottleSide || value <= docs.rig.bottle.limit_Pa;
};

export type GaugeSaid = { readonly gauge: string; readonly value_Pa: number | undefined };

/** The pressure that an event speaks of, if it speaks of any. */
export const gaugeSaid = (docs: Documents, { event }: Act): GaugeSaid | undefined => {
  if (event.type === "gauge-read")
    return { gauge: event.gauge, value_Pa: readValue(event.reading, "pressure") };
  if (event.type !== "step-done" || !event.reading) return undefined;
  const form = stepCalled(docs, event.step)?.form;
  if (form?.kind !== "measure" || form.quantity !== "pressure") return undefined;
  return { gauge: form.instrument, value_Pa: readValue(event.reading, "pressure") };
};

export const behindSupply = (docs: Documents, gauge: string): boolean => side(docs, gauge) !== "supply";

/** Air where the rig's own evidence says that there is none. */
export const pressureShown = (docs: Documents, said: GaugeSaid | undefined): boolean => {
  if (said?.value_Pa === undefined) return false;
  const { rig } = docs;
  const evidence =
    side(docs, said.gauge) === "bottle" ||
    (rig.emptying.kind === "vent" && said.gauge === rig.emptying.lineGauge);
  const rest_Pa = rig.gauges.find(({ id }) => id === said.gauge)?.zeroWithin_Pa ?? 0;
  return evidence && said.value_Pa > rest_Pa;
};

/** A reading on which the run has to be made safe. */
export const alarming = (docs: Documents, state: string, said: GaugeSaid | undefined): boolean => {
  if (said?.value_Pa === undefined || !behindSupply(docs, said.gauge)) return false;
  if (LIVE.includes(state)) return said.value_Pa > docs.rig.bottle.limit_Pa;
  if (COLD.includes(state)) return side(docs, said.gauge) === "bottle" && pressureShown(docs, said);
  return (state === "waiting" || state === "approaching") && pressureShown(docs, said);
};

/** Whether a gauge that was read by itself is where the rig wants it. */
export const withinLimits = (docs: Documents, state: string, said: GaugeSaid): boolean => {
  const { rig } = docs;
  if (said.value_Pa === undefined) return false;
  if (said.gauge === rig.supply.gauge)
    return said.value_Pa >= rig.supply.workingMin_Pa && said.value_Pa <= rig.supply.workingMax_Pa;
  if (["charged", "armed", "zeroed"].includes(state) && side(docs, said.gauge) === "bottle")
    return Math.abs(said.value_Pa - rig.pressure.set_Pa) <= rig.pressure.tolerance_Pa;
  return said.value_Pa <= rig.bottle.limit_Pa;
};

type Done = Extract<Act["event"], { type: "step-done" }>;

/** An answer of the step's form; water may also be had in the other of its two ways. */
export const hasAnswer = (form: Step["form"] | undefined, { answer, reading }: Done): boolean => {
  if (form?.kind === "look") return form.answers.some(({ text }) => text === answer);
  if (form?.kind !== "measure") return form !== undefined && form.kind !== "each-restraint";
  if (!reading || readValue(reading, form.quantity) === undefined) return false;
  const otherWay = (reading.kind === "volume") !== ["mL", "L"].includes(form.unit);
  return reading.instrument === form.instrument || (form.quantity === "water" && otherWay);
};
