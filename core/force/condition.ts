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
 * @param standIn_N  force to take where the channel is clipped, from `rebuild.ts`
 */
export function condition(
  window: EventWindow,
  channel: number,
  baseline: Baseline,
  switches: ConditionSwitches,
  standIn_N?: Float64Array,
): Conditioned {
  const { rate_Hz, from, tail } = window;
  const { force_N: read, clipped, hum_N } = window.channels[channel]!;
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
    clipped !== undefined && standIn_N !== undefined && switches.rebuild ? new Float64Array(n) : undefined;
  const hum = (i: number) => (switches.zero && hum_N !== undefined ? hum_N[i]! : 0);
  // Integral of the zeroed reading from the stretch's start; before it the channel is taken as settled.
  let integral = 0;
  for (let i = from - 1; i >= 0; i--) {
    const t = (i - from + 0.5) * dt;
    const zeroed = read[i]! - zero - drift * t - hum(i);
    integral -= (zeroed * dt) / 2;
    discharge[i] = k * integral;
    felt[i] = zeroed + undo * discharge[i]! - memory;
    integral -= (zeroed * dt) / 2;
  }
  integral = 0;
  let area = 0;
  for (let i = from; i < n; i++) {
    const t = (i - from + 0.5) * dt;
    let zeroed = read[i]! - zero - drift * t - hum(i);
    if (rebuilt !== undefined && clipped![i] === 1) {
      // The felt force is the other channel's; what this one would have read follows from its own state.
      const wanted = (standIn_N![i]! + memory - undo * k * integral) / (1 + (undo * k * dt) / 2);
      // A channel at its limit felt no less than that, whatever the other says.
      const beyond = zeroed > 0 ? Math.max(zeroed, wanted) : Math.min(zeroed, wanted);
      rebuilt[i] = beyond - zeroed;
      zeroed = beyond;
    }
    if (i < tail) area += (zeroed + zero + drift * t + hum(i)) * dt;
    integral += (zeroed * dt) / 2;
    discharge[i] = k * integral;
    felt[i] = zeroed + undo * discharge[i]! - memory;
    integral += (zeroed * dt) / 2;
  }
  return { force_N: felt, discharge_N: discharge, ...(rebuilt && { rebuilt_N: rebuilt }), area_Ns: area };
}
