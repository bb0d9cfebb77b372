import { isReport, type SequenceEvent } from "../../core/sequence/vocabulary.ts";

const BROKEN_HALF = /\p{Surrogate}/gu;

/**
 * A report is never turned away, and a field that cuts an emoji in half makes text that no digest
 * can hold: the broken half becomes the sign for "a character was lost", which stays to be seen.
 * A permission is sent back instead, to be typed again.
 */
export const wellFormed = (event: SequenceEvent): SequenceEvent => {
  if (!isReport(event.type)) return event;
  const entries = Object.entries(event).map(([key, value]) => [
    key,
    typeof value === "string" ? value.replace(BROKEN_HALF, "\uFFFD") : value,
  ]);
  return Object.fromEntries(entries) as SequenceEvent;
};
