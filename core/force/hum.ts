import { leastSquares } from "../uncertainty/least-squares.ts";
import type { Blocks } from "./blocks.ts";

/** Mains hum on one channel: part of its zero, read in the quiet and carried on through the event. */
export type Hum = {
  readonly frequency_Hz: number;
  readonly cos_N: number;
  readonly sin_N: number;
  /** Block from whose beginning its phase counts. */
  readonly fromBlock: number;
};

const mains_Hz = [50, 60];
/** How far the mains wander, and how finely that is looked for. */
const wander_Hz = 0.3;
const step_Hz = 0.05;
const leastQuiet_s = 0.2;
/** Deviations of the fit's own amplitude; less is noise that happens to swing. */
const significant = 5;

/**
 * @param from  first block of the quiet
 * @param to  block behind its last
 * @returns undefined where nothing hums, or the quiet is too short to tell
 */
export function findHum(blocks: Blocks, channel: number, from: number, to: number): Hum | undefined {
  if ((to - from) * blocks.step_s < leastQuiet_s || blocks.step_s > 0.002) return undefined;
  const means = blocks.means_N[channel]!;
  const present: number[] = [];
  for (let b = from; b < to; b++) if (!Number.isNaN(means[b]!)) present.push(b);
  const observed = Float64Array.from(present, (b) => means[b]!);
  let best: { readonly hum: Hum; readonly squares: number; readonly size: number } | undefined;
  for (const mains of mains_Hz) {
    for (let f = mains - wander_Hz; f <= mains + wander_Hz; f += step_Hz) {
      const turn = 2 * Math.PI * f * blocks.step_s;
      const design = new Float64Array(present.length * 4);
      for (const [i, b] of present.entries()) {
        const at = b - from + 0.5;
        design.set([1, at, Math.cos(turn * at), Math.sin(turn * at)], 4 * i);
      }
      const fit = leastSquares(design, observed, 4);
      if (!fit.determined || (best !== undefined && fit.squares >= best.squares)) continue;
      // A block's mean is a little less than what it is the mean of.
      const kept = Math.sin(turn / 2) / (turn / 2);
      const [cos_N, sin_N] = [fit.parameters[2]! / kept, fit.parameters[3]! / kept];
      const deviation = Math.sqrt((fit.squares / Math.max(1, fit.freedom)) * fit.inverse[10]!);
      best = {
        hum: { frequency_Hz: f, cos_N, sin_N, fromBlock: from },
        squares: fit.squares,
        size: Math.hypot(cos_N, sin_N) / deviation,
      };
    }
  }
  return best !== undefined && best.size > significant ? best.hum : undefined;
}

/** The hum at a time after the beginning of its first block. */
export const humAt = ({ frequency_Hz, cos_N, sin_N }: Hum, t_s: number): number => {
  const angle = 2 * Math.PI * frequency_Hz * t_s;
  return cos_N * Math.cos(angle) + sin_N * Math.sin(angle);
};
