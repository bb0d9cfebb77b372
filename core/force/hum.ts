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
  const rest = withoutLine(blocks.means_N[channel]!.subarray(from, to));
  let best: Swing | undefined;
  let frequency_Hz = 0;
  for (const mains of mains_Hz) {
    for (let f = mains - wander_Hz; f <= mains + wander_Hz + 1e-9; f += step_Hz) {
      const found = swingAt(rest, 2 * Math.PI * f * blocks.step_s);
      if (best !== undefined && found.explained <= best.explained) continue;
      best = found;
      frequency_Hz = f;
    }
  }
  const left = rest.reduce((sum, x) => sum + x * x, 0) - best!.explained;
  const deviation = Math.sqrt(Math.max(0, left) / rest.length) * Math.sqrt(2 / rest.length);
  if (!(Math.hypot(best!.cos_N, best!.sin_N) > significant * deviation)) return undefined;
  // A block's mean is a little less than what it is the mean of.
  const half = Math.PI * frequency_Hz * blocks.step_s;
  const lost = half / Math.sin(half);
  return { frequency_Hz, cos_N: best!.cos_N * lost, sin_N: best!.sin_N * lost, fromBlock: from };
}

type Swing = { readonly cos_N: number; readonly sin_N: number; readonly explained: number };

/** What is left of the blocks over a straight line; nothing where there is no sample. */
function withoutLine(means: Float64Array): Float64Array {
  const middle = (means.length - 1) / 2;
  let n = 0;
  let sum = 0;
  let rise = 0;
  let square = 0;
  for (const [i, x] of means.entries()) {
    if (Number.isNaN(x)) continue;
    n++;
    sum += x;
    rise += (i - middle) * x;
    square += (i - middle) ** 2;
  }
  const mean = n > 0 ? sum / n : 0;
  const slope = square > 0 ? rise / square : 0;
  return means.map((x, i) => (Number.isNaN(x) ? 0 : x - mean - slope * (i - middle)));
}

/** Least squares of one frequency, its phase counted from half a block before the first. */
function swingAt(rest: Float64Array, turn: number): Swing {
  const re = Math.cos(turn);
  const im = Math.sin(turn);
  let c = Math.cos(turn / 2);
  let s = Math.sin(turn / 2);
  let [cc, cs, ss, cy, sy] = [0, 0, 0, 0, 0];
  for (let i = 0; i < rest.length; i++) {
    const y = rest[i]!;
    cc += c * c;
    cs += c * s;
    ss += s * s;
    cy += c * y;
    sy += s * y;
    const next = c * re - s * im;
    s = c * im + s * re;
    c = next;
  }
  const determinant = cc * ss - cs * cs;
  if (!(determinant > 0)) return { cos_N: 0, sin_N: 0, explained: 0 };
  const cos_N = (cy * ss - sy * cs) / determinant;
  const sin_N = (sy * cc - cy * cs) / determinant;
  return { cos_N, sin_N, explained: cos_N * cy + sin_N * sy };
}

/** The hum at a time after the beginning of its first block. */
export const humAt = ({ frequency_Hz, cos_N, sin_N }: Hum, t_s: number): number => {
  const angle = 2 * Math.PI * frequency_Hz * t_s;
  return cos_N * Math.cos(angle) + sin_N * Math.sin(angle);
};
