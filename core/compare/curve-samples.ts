import type { ThrustCurve } from "../propulsion/thrust-curve.ts";

/**
 * Thrust of a predicted curve at given times, by the cubic through the four nearest points; 0
 * before release and after the end. Where thrust jumps, at the water's end, points of one side only.
 * @param times_s  rising, from release
 */
export function thrustAt(curve: ThrustCurve, times_s: ArrayLike<number>): Float64Array {
  const parts = smoothParts(curve);
  const result = new Float64Array(times_s.length);
  let part = 0;
  let at = 0;
  for (let i = 0; i < times_s.length; i++) {
    const time_s = times_s[i]!;
    if (time_s < 0 || time_s > curve.end_s) continue;
    while (part + 1 < parts.length && time_s > parts[part]!.t_s.at(-1)!) {
      part++;
      at = 0;
    }
    const here = parts[part];
    if (here === undefined) break;
    while (at + 2 < here.t_s.length && here.t_s[at + 1]! < time_s) at++;
    result[i] = cubic(here, Math.max(0, Math.min(at - 1, here.t_s.length - 4)), time_s);
  }
  return result;
}

type Part = { readonly t_s: number[]; readonly thrust_N: number[] };

/** Water and air apart, each time once. */
function smoothParts(curve: ThrustCurve): readonly Part[] {
  const parts: Part[] = [];
  let part: Part | undefined;
  for (let i = 0; i < curve.t_s.length; i++) {
    const time_s = curve.t_s[i]!;
    const last = part?.t_s.at(-1);
    const jumps = last === time_s && Math.abs(part!.thrust_N.at(-1)! - curve.thrust_N[i]!) > jump_N;
    if (part === undefined || jumps) {
      part = { t_s: [], thrust_N: [] };
      parts.push(part);
    } else if (last === time_s) continue;
    part.t_s.push(time_s);
    part.thrust_N.push(curve.thrust_N[i]!);
  }
  return parts.filter(({ t_s }) => t_s.length >= 4);
}

/** Two arcs that meet smoothly differ by rounding alone. */
const jump_N = 1e-6;

/** Lagrange's polynomial through four points from `first` on. */
function cubic({ t_s, thrust_N }: Part, first: number, time_s: number): number {
  let sum = 0;
  for (let i = first; i < first + 4; i++) {
    let weight = thrust_N[i]!;
    for (let j = first; j < first + 4; j++) {
      if (j !== i) weight *= (time_s - t_s[j]!) / (t_s[i]! - t_s[j]!);
    }
    sum += weight;
  }
  return sum;
}

/**
 * Mean thrust over sample intervals, as a recorder that integrates sees it: however short a spike
 * is, its impulse is in the sample that it falls into.
 * @param edges_s  rising, from release; one more than there are samples
 */
export function meanThrustBetween(curve: ThrustCurve, edges_s: ArrayLike<number>): Float64Array {
  const means = new Float64Array(Math.max(0, edges_s.length - 1));
  let at = 0;
  let before_Ns = 0;
  for (let i = 0; i < edges_s.length; i++) {
    const time_s = edges_s[i]!;
    while (at + 2 < curve.t_s.length && curve.t_s[at + 1]! < time_s) at++;
    const until_Ns = impulseUntil(curve, at, time_s);
    if (i > 0) means[i - 1] = (until_Ns - before_Ns) / (time_s - edges_s[i - 1]!);
    before_Ns = until_Ns;
  }
  return means;
}

/** Hermite's cubic between two points: the slope of the impulse is the thrust, known at both. */
function impulseUntil(curve: ThrustCurve, at: number, time_s: number): number {
  if (time_s <= 0 || curve.t_s.length < 2) return 0;
  if (time_s >= curve.end_s) return curve.impulse_Ns;
  const [from_s, to_s] = [curve.t_s[at]!, curve.t_s[at + 1]!];
  const [from_Ns, to_Ns] = [curve.impulseUntil_Ns[at]!, curve.impulseUntil_Ns[at + 1]!];
  const span_s = to_s - from_s;
  if (span_s <= 0) return to_Ns;
  const x = (time_s - from_s) / span_s;
  const y = 1 - x;
  return (
    from_Ns * y * y * (1 + 2 * x) +
    to_Ns * x * x * (1 + 2 * y) +
    span_s * x * y * (curve.thrust_N[at]! * y - curve.thrust_N[at + 1]! * x)
  );
}
