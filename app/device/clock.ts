import type { Clock } from "../ports.ts";

/** What of `performance` and `Date` is read, so that a test can be the clock. */
export type Ticks = { readonly wall_ms: () => number; readonly mono_ms: () => number };

const browserTicks: Ticks = { wall_ms: () => Date.now(), mono_ms: () => performance.now() };

/**
 * Wall milliseconds and monotonic tenths, whole numbers both, with the id of this page's life: the
 * monotonic clock starts anew with the page, so stamps of two sessions never compare.
 */
export const createClock = (session: string, ticks: Ticks = browserTicks): Clock => {
  const stamp = (mono_ms: number): ReturnType<Clock["now"]> => ({
    at: Math.round(ticks.wall_ms() - (ticks.mono_ms() - mono_ms)),
    mono: Math.round(mono_ms * 10),
    session,
  });
  return {
    now: () => stamp(ticks.mono_ms()),
    // An input event's timeStamp runs on the same clock as performance.now(); one that lies ahead,
    // or that an old engine gives on the wall clock, is no evidence of when the finger was there.
    ofInput: (timeStamp) =>
      stamp(timeStamp >= 0 && timeStamp <= ticks.mono_ms() ? timeStamp : ticks.mono_ms()),
  };
};
