import type { Step, StepForm } from "../procedure/procedure.ts";
import type { Reading } from "../record/reading.ts";
import { isVolumeUnit, readingValue } from "../record/reading-value.ts";
import { isOnSupply } from "../rig/gauge-side.ts";
import type { Doc } from "./context.ts";
import type { SequenceEvent } from "./vocabulary.ts";

type Measure = Extract<StepForm, { kind: "measure" }>;
type Done = Extract<SequenceEvent, { type: "step-done" }>;

/**
 * A step names its instrument, and is read on no other. Only water may be had in the other way, weighed
 * where a vessel was meant or poured where a scale was: then the log names what was used instead.
 */
const isByItsInstrument = ({ quantity, unit, instrument }: Measure, reading: Reading): boolean =>
  reading.instrument === instrument ||
  (quantity === "water" && isVolumeUnit(unit) !== (reading.kind === "volume"));

/** Whether a step has an answer of its form, good or bad: restraints are answered one by one instead. */
export const isAnswered = (form: StepForm, { answer, reading }: Done): boolean => {
  if (form.kind === "look") return form.answers.some(({ text }) => text === answer);
  if (form.kind !== "measure") return form.kind !== "each-restraint";
  return reading !== undefined && isByItsInstrument(form, reading) && readingValue(reading, form.quantity).ok;
};

/** Whether a step's answer is the good one; a form without answers has only that. */
export const isGood = (doc: Doc, step: Step, event: Done): boolean => {
  const { form } = step;
  if (form.kind === "look") return form.answers.some(({ text, good }) => good && text === event.answer);
  if (form.kind !== "measure") return true;
  const value = event.reading && readingValue(event.reading, form.quantity);
  if (!value?.ok) return false;
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = form.band;
  const ownLimit = form.quantity === "pressure" && !isOnSupply(doc.rig, form.instrument);
  return value.value >= min && value.value <= (ownLimit ? Math.min(max, doc.rig.bottle.limit_Pa) : max);
};
