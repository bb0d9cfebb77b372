import type { Stamp } from "./vocabulary.ts";

/**
 * Time between two stamps, judged so that doubt always counts against going on. Phones sleep and
 * clocks are set: what may grow stale uses the larger of the two gaps, what must be waited out the
 * smaller; a gap that runs backwards, or crosses a restart, is no evidence at all.
 */

const gaps_ms = (from: Stamp, to: Stamp): { wall: number; mono: number } | undefined => {
  if (from.session !== to.session) return undefined;
  const wall = to.at - from.at;
  const mono = (to.mono - from.mono) / 10;
  return wall < 0 || mono < 0 ? undefined : { wall, mono };
};

/** Milliseconds that may have passed at most; Infinity where the clocks cannot tell. */
export const ageAtMost_ms = (from: Stamp, to: Stamp): number => {
  const gap = gaps_ms(from, to);
  return gap ? Math.max(gap.wall, gap.mono) : Number.POSITIVE_INFINITY;
};

/** Milliseconds that have passed at least; 0 where the clocks cannot tell. */
export const waitedAtLeast_ms = (from: Stamp, to: Stamp): number => {
  const gap = gaps_ms(from, to);
  return gap ? Math.min(gap.wall, gap.mono) : 0;
};

/** Wall and monotonic clocks may part by this much inside a timed window before it is void. */
const WINDOW_SKEW_ms = 250;

/** True only where both clocks agree that `to` lies inside the window that `from` opened. */
export const insideWindow = (from: Stamp, to: Stamp, window_ms: number): boolean => {
  const gap = gaps_ms(from, to);
  return gap !== undefined && gap.mono <= window_ms && Math.abs(gap.wall - gap.mono) <= WINDOW_SKEW_ms;
};
