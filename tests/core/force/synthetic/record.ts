import type { Seeded } from "./seeded.ts";
import { gravity_m_s2, type Shot } from "./shot.ts";

/** SYNTHETIC records: a shot seen through a ringing stand, drooping channels and a recorder. */
export type ChannelFaults = {
  /** Part of the force that this sensor carries. */
  readonly share: number;
  /** Infinity for a channel that holds a steady force. */
  readonly discharge_s: number;
  /** What the sensor reads over what it should. */
  readonly gain: number;
  readonly sign: 1 | -1;
  readonly offset_N: number;
  readonly drift_N_s: number;
  readonly noise_N: number;
  readonly quantum_N: number;
  readonly clip_N: number;
};

export type RecordFaults = {
  readonly rate_Hz: number;
  readonly length_s: number;
  readonly ring_Hz: number;
  readonly damping: number;
  /** A second mode that rocks the frame: what one channel gains, the other loses. */
  readonly rock_Hz: number;
  readonly rockPart: number;
  readonly lag_s: number;
  readonly hum_Hz: number;
  readonly hum_N: number;
  readonly channels: readonly ChannelFaults[];
  readonly stopperOutside: boolean;
  readonly shots: readonly { readonly onset_s: number; readonly shot: Shot }[];
  /** Slow humps from hands on the stand: half-sines that leave nothing behind. */
  readonly bumps: readonly { readonly at_s: number; readonly lasts_s: number; readonly peak_N: number }[];
};

export type SyntheticRecord = {
  readonly rate_Hz: number;
  readonly time_s: Float64Array;
  /** As the recorder wrote them, newtons, sign and gain as they are. */
  readonly channels_N: readonly Float64Array[];
  readonly clipped: readonly number[];
  readonly faults: RecordFaults;
};

export const fineStep_s = 2e-5;

export function syntheticRecord(faults: RecordFaults, random: Seeded): SyntheticRecord {
  const samples = Math.round(faults.length_s * faults.rate_Hz);
  const stand = standForces(faults, samples);
  const humPhase = random.between(0, 2 * Math.PI);
  const time_s = Float64Array.from({ length: samples }, (_, i) => i / faults.rate_Hz);
  const clipped = faults.channels.map(() => 0);
  const channels_N = faults.channels.map((c, k) => {
    const out = stand[k]!;
    const humStep = (2 * Math.PI * faults.hum_Hz) / faults.rate_Hz;
    for (let i = 0; i < samples; i++) {
      const slow = c.offset_N + c.drift_N_s * time_s[i]! + faults.hum_N * Math.sin(humStep * i + humPhase);
      const noisy = c.gain * out[i]! + slow + c.noise_N * random.normal();
      const limited = Math.max(-c.clip_N, Math.min(c.clip_N, noisy));
      if (limited !== noisy) clipped[k] = clipped[k]! + 1;
      out[i] = c.sign * (c.quantum_N > 0 ? Math.round(limited / c.quantum_N) * c.quantum_N : limited);
    }
    return out;
  });
  return { rate_Hz: faults.rate_Hz, time_s, channels_N, clipped, faults };
}

/** Each channel's share of the ringing stand, through the recorder's lag and the channel's droop. */
function standForces(faults: RecordFaults, samples: number): Float64Array[] {
  const perSample = Math.max(1, Math.ceil(1 / (faults.rate_Hz * fineStep_s)));
  const fine_s = 1 / (faults.rate_Hz * perSample);
  const ring = new Resonator(faults.ring_Hz, faults.damping, fine_s);
  const rock = new Resonator(faults.rock_Hz, faults.damping, fine_s);
  const lagKeep = faults.lag_s > 0 ? Math.exp(-fine_s / faults.lag_s) : 0;
  const channels = faults.channels.map((c, k) => ({
    share: c.share,
    rocks: faults.channels.length > 1 && faults.rockPart > 0 ? (k === 0 ? 1 : -1) * faults.rockPart : 0,
    leak: Number.isFinite(c.discharge_s) ? -Math.expm1(-fine_s / c.discharge_s) : 0,
    lagged: 0,
    low: 0,
    out: new Float64Array(samples),
  }));
  const busy = busySpans(faults);
  for (let i = 0; i < samples; i++) {
    for (const c of channels) c.out[i] = c.lagged - c.low;
    const t = i / faults.rate_Hz;
    // Where nothing moves, one step a sample is exact enough: only the droop goes on.
    const steps = busy.some(([from, to]) => t >= from && t < to) ? perSample : 1;
    const still = steps < perSample;
    for (let s = 0; s < steps; s++) {
      const force = forceAt(faults, t + (s + 1) * fine_s);
      const x = still ? force : ring.next(force);
      const rocking = still ? 0 : rock.next(force) - force;
      for (const c of channels) {
        const before = c.lagged;
        c.lagged = lagKeep * c.lagged + (1 - lagKeep) * (c.share * x + c.rocks * rocking);
        // First-order high-pass, exact for a force that is straight between two steps.
        c.low += (still ? 1 - (1 - c.leak) ** perSample : c.leak) * ((before + c.lagged) / 2 - c.low);
      }
    }
  }
  return channels.map((c) => c.out);
}

/** From just before anything moves until its ringing is over. */
function busySpans(faults: RecordFaults): (readonly [number, number])[] {
  const settle_s = 10 / (2 * Math.PI * faults.damping * Math.min(faults.ring_Hz, faults.rock_Hz));
  return [
    ...faults.shots.map(({ onset_s, shot }) => [onset_s - 0.01, onset_s + shot.end_s + settle_s] as const),
    ...faults.bumps.map(({ at_s, lasts_s }) => [at_s - 0.01, at_s + lasts_s + settle_s] as const),
  ];
}

/** What the stand carries: thrust, the weight that left, the stopper's step, hands on the frame. */
function forceAt(faults: RecordFaults, t: number): number {
  let force = 0;
  for (const { onset_s, shot } of faults.shots) {
    const since = (t - onset_s) / shot.step_s;
    if (since < 0) continue;
    const i = Math.floor(since);
    const last = shot.thrust_N.length - 1;
    if (i >= last) force += gravity_m_s2 * shot.gone_kg[last]!;
    else {
      const part = since - i;
      force += shot.thrust_N[i]! * (1 - part) + shot.thrust_N[i + 1]! * part;
      force += gravity_m_s2 * (shot.gone_kg[i]! * (1 - part) + shot.gone_kg[i + 1]! * part);
    }
    if (faults.stopperOutside) force -= shot.seal_N;
  }
  for (const bump of faults.bumps) {
    const x = (t - bump.at_s) / bump.lasts_s;
    if (x > 0 && x < 1) force += bump.peak_N * Math.sin(Math.PI * x) ** 2;
  }
  return force;
}

/** A damped mode with unit gain at rest, advanced by the exact solution for a force held over one step. */
class Resonator {
  #x = 0;
  #v = 0;
  #previous = 0;
  readonly #omega: number;
  readonly #damping: number;
  readonly #damped: number;
  readonly #cos: number;
  readonly #sin: number;

  constructor(frequency_Hz: number, damping: number, step_s: number) {
    this.#omega = 2 * Math.PI * frequency_Hz;
    this.#damping = damping;
    this.#damped = this.#omega * Math.sqrt(1 - damping ** 2);
    const decay = Math.exp(-damping * this.#omega * step_s);
    this.#cos = decay * Math.cos(this.#damped * step_s);
    this.#sin = decay * Math.sin(this.#damped * step_s);
  }

  next(force: number): number {
    const held = (this.#previous + force) / 2;
    this.#previous = force;
    const off = this.#x - held;
    const pull = this.#damping * this.#omega;
    this.#x = held + off * this.#cos + ((this.#v + pull * off) / this.#damped) * this.#sin;
    this.#v = this.#v * this.#cos - ((pull * this.#v + this.#omega ** 2 * off) / this.#damped) * this.#sin;
    return this.#x;
  }
}
