import type { Baseline } from "./baseline.ts";
import type { EventWindow } from "./window.ts";

/** The force that one channel felt, taken apart: read = felt − what the corrections add. */
export type Conditioned = {
  /** Zeroed, discharge undone, limits rebuilt; newtons upward. */
  readonly force_N: Float64Array;
  /** What undoing the discharge adds at each sample, whether it is switched on or not. */
  readonly discharge_N: Float64Array;
  /** What rebuilding added at each sample; absent where nothing was clipped. */
  readonly rebuilt_N?: Float64Array;
  /** Area as read from the stretch's start to its tail, rebuilt samples as rebuilt: what the discharge has seen. */
  readonly area_Ns: number;
};

export type ConditionSwitches = {
  readonly zero: boolean;
  readonly discharge: boolean;
  readonly rebuild: boolean;
};

/**
 * Undoes zero and discharge, x(t) = y(t) − zero − drift·t − memory + k∫(y − zero − drift·t), by the trapezoidal rule; exact for a
 * first-order high-pass whatever the pulse looks like.
 * @param other  force felt by an unclipped channel and this channel's share of it, where this one is clipped
 */
export function condition(
  window: EventWindow,
  channel: number,
  baseline: Baseline,
  switches: ConditionSwitches,
  other?: { readonly force_N: Float64Array; readonly ratio: number },
): Conditioned {
  const { rate_Hz, from, tail } = window;
  const { force_N: read, clipped } = window.channels[channel]!;
  const n = read.length;
  const dt = 1 / rate_Hz;
  const k = baseline.inverse_1_s;
  const undo = switches.discharge ? 1 : 0;
  const zero = switches.zero ? baseline.zero_N : 0;
  const drift = switches.zero ? baseline.drift_N_s : 0;
  // What an earlier push still discharges is no force of this event.
  const memory = switches.zero ? baseline.memory_N : 0;
  const felt = new Float64Array(n);
  const discharge = new Float64Array(n);
  const rebuilt =
    clipped !== undefined && other !== undefined && switches.rebuild ? new Float64Array(n) : undefined;
  // Integral of the zeroed reading from the stretch's start; before it the channel is taken as settled.
  let integral = 0;
  for (let i = from - 1; i >= 0; i--) {
    const t = (i - from + 0.5) * dt;
    const zeroed = read[i]! - zero - drift * t;
    integral -= (zeroed * dt) / 2;
    discharge[i] = k * integral;
    felt[i] = zeroed + undo * discharge[i]! - memory;
    integral -= (zeroed * dt) / 2;
  }
  integral = 0;
  let area = 0;
  for (let i = from; i < n; i++) {
    const t = (i - from + 0.5) * dt;
    let zeroed = read[i]! - zero - drift * t;
    if (rebuilt !== undefined && clipped![i] === 1) {
      // The felt force is the other channel's; what this one would have read follows from its own state.
      const wanted =
        (other!.force_N[i]! * other!.ratio + memory - undo * k * integral) / (1 + (undo * k * dt) / 2);
      rebuilt[i] = wanted - zeroed;
      zeroed = wanted;
    }
    if (i < tail) area += (zeroed + zero + drift * t) * dt;
    integral += (zeroed * dt) / 2;
    discharge[i] = k * integral;
    felt[i] = zeroed + undo * discharge[i]! - memory;
    integral += (zeroed * dt) / 2;
  }
  return { force_N: felt, discharge_N: discharge, ...(rebuilt && { rebuilt_N: rebuilt }), area_Ns: area };
}

/**
 * A clipped channel's part of another, from the samples at which neither is at its limit.
 * @returns the ratio with its standard uncertainty; undefined where too few samples tell or they disagree
 */
export function shareRatio(
  clipped: Float64Array,
  other: Float64Array,
  limits: Uint8Array,
  from: number,
  to: number,
): { readonly ratio: number; readonly u: number } | undefined {
  let xy = 0;
  let xx = 0;
  let yy = 0;
  let n = 0;
  for (let i = from; i < to; i++) {
    if (limits[i] === 1) continue;
    xy += clipped[i]! * other[i]!;
    xx += other[i]! ** 2;
    yy += clipped[i]! ** 2;
    n++;
  }
  if (n < 10 || !(xx > 0)) return undefined;
  const ratio = xy / xx;
  const residual = Math.max(0, yy - ratio * xy) / (n - 1);
  // Residuals ring, so neighbours are alike: a tenth of them count as independent.
  const u = Math.sqrt((10 * residual) / xx);
  return ratio > 0 && residual < 0.05 * (yy / n) ? { ratio, u } : undefined;
}
