import type { Step } from "../procedure/procedure.ts";
import { readingValue } from "../record/reading-value.ts";
import { isOnSupply } from "../rig/gauge-side.ts";
import type { Doc } from "./context.ts";
import type { SequenceEvent } from "./vocabulary.ts";

/** Whether a step's answer is the good one; a form without answers has only that. */
export const isGood = (
  doc: Doc,
  step: Step,
  event: Extract<SequenceEvent, { type: "step-done" }>,
): boolean => {
  const { form } = step;
  if (form.kind === "look") return form.answers.some(({ text, good }) => good && text === event.answer);
  if (form.kind !== "measure") return true;
  const value = event.reading && readingValue(event.reading, form.quantity);
  if (!value?.ok) return false;
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = form.band;
  const ownLimit = form.quantity === "pressure" && !isOnSupply(doc.rig, form.instrument);
  return value.value >= min && value.value <= (ownLimit ? Math.min(max, doc.rig.bottle.limit_Pa) : max);
};
