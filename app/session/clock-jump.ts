import type { SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";

/** The wall clock and the monotonic one may part by this much, in ms, before the log says so (FIELD, time). */
const DRIFT_LIMIT_MS = 500;

/** The entry that must come first where somebody set the clock, or the device slept, since the last act. */
export const clockJump = (last: Stamp, now: Stamp): SequenceEvent | undefined => {
  if (last.session !== now.session) return undefined;
  const wallGap_ms = now.at - last.at;
  const monoGap_ms = Math.round((now.mono - last.mono) / 10);
  return Math.abs(wallGap_ms - monoGap_ms) > DRIFT_LIMIT_MS
    ? { type: "clock-jumped", wallGap_ms, monoGap_ms }
    : undefined;
};
