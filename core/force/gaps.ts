import { type LinearFit, leastSquares } from "../uncertainty/least-squares.ts";
import type { Ringing } from "./ringing.ts";

/** The start's own spike is no part of the smooth thrust that a polynomial stands for. */
const spike_s = 0.005;
const leastSide = 3;
const anchors = 2;
const smallestReach = 6;

/**
 * Draws missing samples from their neighbours: a polynomial for the thrust and the stand's mode for the
 * ringing, fitted to both sides of each gap.
 * @param samples  filled in place
 * @param missing  1 where a sample is missing
 * @param start  sample at which the push begins, as far as is known
 * @returns standard uncertainty of the area that was filled, newton seconds
 */
export function fillGaps(
  samples: Float64Array,
  missing: Uint8Array,
  rate_Hz: number,
  ringing: Ringing | undefined,
  start: number,
): number {
  let variance = 0;
  for (let i = 0; i < samples.length; i++) {
    if (missing[i] !== 1) continue;
    const from = i;
    while (i < samples.length && missing[i] === 1) i++;
    variance += fillGap(samples, missing, { from, to: i }, rate_Hz, ringing, start) ** 2;
  }
  return Math.sqrt(variance);
}

type Gap = { readonly from: number; readonly to: number };
type Drawing = { readonly values: Float64Array; readonly u_Ns: number; readonly scatter: number };

function fillGap(
  samples: Float64Array,
  missing: Uint8Array,
  gap: Gap,
  rate_Hz: number,
  ringing: Ringing | undefined,
  start: number,
): number {
  straight(samples, gap);
  const { from, to } = gap;
  const drawn = samples.slice(from, to);
  const period = ringing === undefined ? 0 : rate_Hz / ringing.frequency_Hz;
  if (start >= from - 1 && start <= to) return hiddenStart(samples, gap, Math.ceil(period)) / rate_Hz;
  const reach = Math.ceil(Math.max(smallestReach, 0.75 * (to - from), 1.2 * period));
  const spikeOver = start + Math.round(spike_s * rate_Hz);
  const after = from > start ? Math.max(start, Math.min(spikeOver, from - leastSide)) : 0;
  const ways = [draw(samples, missing, gap, Math.max(after, from - reach), reach, 3, rate_Hz, ringing)];
  // Inside the start's own spike perhaps only the last samples before the gap belong to what follows it.
  if (ringing !== undefined && from > start && from < spikeOver + leastSide) {
    ways.push(draw(samples, missing, gap, from - anchors, reach, 1, rate_Hz, ringing));
  }
  const best = ways.filter((way) => way !== undefined).sort((a, b) => a.scatter - b.scatter)[0];
  // With one side alone a polynomial runs away: the straight line stays, half its rise in doubt.
  if (best === undefined) {
    return (0.5 * Math.abs((drawn.at(-1) ?? 0) - (drawn[0] ?? 0)) * drawn.length) / rate_Hz;
  }
  samples.set(best.values, from);
  return best.u_Ns;
}

/**
 * The push began inside the gap, nobody knows when: rest before it and thrust after it are no one curve.
 * The straight line stays, which is half of what the first swing after it would have filled.
 * @returns the standard uncertainty of what it sums to, the other half
 */
function hiddenStart(samples: Float64Array, { from, to }: Gap, period: number): number {
  const before = samples[Math.max(0, from - 1)]!;
  let swing = 0;
  for (let i = to; i < Math.min(samples.length, to + Math.max(leastSide, period)); i++)
    swing = Math.max(swing, Math.abs(samples[i]! - before));
  return 0.5 * swing * (to - from);
}

/** One way of drawing: which samples before the gap count, and the polynomial's degree. */
function draw(
  samples: Float64Array,
  missing: Uint8Array,
  { from, to }: Gap,
  earliest: number,
  reach: number,
  degree: number,
  rate_Hz: number,
  ringing: Ringing | undefined,
): Drawing | undefined {
  const seen: number[] = [];
  for (let i = Math.max(0, earliest); i < Math.min(samples.length, to + reach); i++)
    if (missing[i] !== 1) seen.push(i);
  const middle = (from + to - 1) / 2;
  const width = reach + (to - from) / 2;
  const basis = (i: number): number[] => {
    const row = Array.from({ length: degree + 1 }, (_, power) => ((i - middle) / width) ** power);
    if (ringing === undefined) return row;
    const omega = 2 * Math.PI * ringing.frequency_Hz;
    const t = (i - middle) / rate_Hz;
    const swing = Math.exp(-ringing.damping * omega * t);
    const angle = omega * Math.sqrt(1 - ringing.damping ** 2) * t;
    return [...row, swing * Math.cos(angle), swing * Math.sin(angle)];
  };
  const parameters = basis(middle).length;
  const before = seen.filter((i) => i < from).length;
  if (
    seen.length < parameters + 2 ||
    before < Math.min(degree, leastSide) ||
    seen.length - before < leastSide
  ) {
    return undefined;
  }
  const observed = Float64Array.from(seen, (i) => samples[i]!);
  const fit = leastSquares(Float64Array.from(seen.flatMap(basis)), observed, parameters);
  if (!fit.determined) return undefined;
  const scatter = Math.sqrt(fit.squares / Math.max(1, fit.freedom));
  const values = Float64Array.from({ length: to - from }, (_, k) => dot(fit.parameters, basis(from + k)));
  let moved = 0;
  for (const [k, value] of values.entries()) moved += Math.abs(value - samples[from + k]!) / rate_Hz;
  // A part of what the model moved, up or down, stands for what it does not know: a kink, another mode.
  const unknown = (degree < leastSide ? 0.5 : 0.2) * moved;
  return { values, scatter, u_Ns: Math.hypot(scatter * areaU(fit, basis, from, to, rate_Hz), unknown) };
}

function areaU(
  fit: LinearFit,
  basis: (i: number) => number[],
  from: number,
  to: number,
  rate_Hz: number,
): number {
  const n = fit.parameters.length;
  const area = new Float64Array(n);
  for (let i = from; i < to; i++) for (const [k, x] of basis(i).entries()) area[k] = area[k]! + x / rate_Hz;
  let variance = 0;
  for (let j = 0; j < n; j++)
    for (let k = 0; k < n; k++) variance += area[j]! * area[k]! * fit.inverse[j * n + k]!;
  return Math.sqrt(Math.max(0, variance));
}

const dot = (a: Float64Array, b: readonly number[]): number => b.reduce((sum, x, k) => sum + a[k]! * x, 0);

function straight(samples: Float64Array, { from, to }: Gap) {
  const left = from > 0 ? samples[from - 1]! : (samples[to] ?? 0);
  const right = to < samples.length ? samples[to]! : left;
  for (let i = from; i < to; i++) samples[i] = left + ((right - left) * (i - from + 1)) / (to - from + 1);
}
