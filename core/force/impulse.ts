/** Integrals over the event, by the trapezoidal rule between fractional samples. */

/** ∫ values dt from one place to another; both may lie between samples. */
export function areaBetween(values: Float64Array, from: number, to: number, rate_Hz: number): number {
  const a = Math.max(0, from);
  const b = Math.min(values.length - 1, to);
  if (!(b > a)) return 0;
  const at = (x: number) => {
    const i = Math.min(values.length - 2, Math.floor(x));
    return values[i]! + (values[i + 1]! - values[i]!) * (x - i);
  };
  const first = Math.ceil(a);
  const last = Math.floor(b);
  if (first > last) return ((at(a) + at(b)) / 2) * ((b - a) / rate_Hz);
  let sum = ((at(a) + values[first]!) / 2) * (first - a) + ((at(b) + values[last]!) / 2) * (b - last);
  for (let i = first; i < last; i++) sum += (values[i]! + values[i + 1]!) / 2;
  return sum / rate_Hz;
}

/** How long the ringing is averaged. */
const average_s = 0.15;
/** Thrust too weak to be seen goes on a little after the end: long burns fade slowly. */
const leastFade_s = 0.02;
const fadePart = 0.15;

/**
 * What comes after the end: thrust too weak to stand out, and ringing. The area is averaged with a raised
 * cosine while the ringing dies, so that it counts as much as it will have integrated to; what stays level
 * by then is no thrust and is taken off.
 * @returns area, and the level it was counted from
 */
export function fadingArea(
  thrust_N: Float64Array,
  onset: number,
  end: number,
  rate_Hz: number,
): { readonly area_Ns: number; readonly level_N: number; readonly length: number } {
  const start = Math.ceil(end);
  const available = thrust_N.length - 1 - start;
  const fade = Math.round(Math.max(leastFade_s * rate_Hz, fadePart * (end - onset)));
  const from = start + Math.min(fade, Math.floor(available / 3));
  const to = Math.min(thrust_N.length - 1, from + Math.round(average_s * rate_Hz));
  const length = to - from;
  if (length < 6) return { area_Ns: 0, level_N: 0, length: Math.max(0, available) };
  const weight = (i: number) => 1 - Math.cos((2 * Math.PI * (i - from)) / length);
  let weights = 0;
  let level = 0;
  for (let i = from; i <= to; i++) {
    weights += weight(i);
    level += weight(i) * thrust_N[i]!;
  }
  level /= weights;
  let running = (thrust_N[start]! - level) * (start - end);
  let mean = 0;
  for (let i = start; i <= to; i++) {
    if (i >= from) mean += weight(i) * running;
    if (i < to) running += (thrust_N[i]! + thrust_N[i + 1]!) / 2 - level;
  }
  return { area_Ns: mean / weights / rate_Hz, level_N: level, length: available };
}
