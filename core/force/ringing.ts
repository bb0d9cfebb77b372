import { lowPass } from "./low-pass.ts";

/** The stand's own mode, read from the record. */
export type Ringing = { readonly frequency_Hz: number; readonly damping: number };

/** Stands have been given with modes from 40 Hz on; a stretch too short for the usual ones tells nothing. */
const least_Hz = 35;
const usual_Hz = 60;
const greatest_Hz = 420;
const dampings = [0.012, 0.03, 0.07];
const greatestDamping = 0.12;
/** Swings that a stretch must hold: a cubic passes for fewer. */
const leastSwings = 2.5;
/** Part of what a cubic leaves that one damped mode must explain. */
const leastExplained = 0.7;
const samplesUsed = 240;

export type Swing = {
  readonly samples: Float64Array;
  readonly from: number;
  readonly to: number;
  /** 1 where there is no sample, only what was drawn: it has no say. */
  readonly missing?: Uint8Array;
};

/**
 * Finds the mode that, on top of a cubic for the thrust, explains most of a stretch: a search over
 * frequency and damping with the amplitudes solved for, coarse and then finer. Linear prediction would be
 * quicker, and mistakes a mode above the Nyquist frequency of its own lag for another.
 * @param swings  stretches in which the stand rings: after the start, after the water's end
 * @returns undefined where nothing rings, which is common and no fault
 */
export function findRinging(swings: readonly Swing[], rate_Hz: number): Ringing | undefined {
  let best: (Ringing & { readonly explained: number }) | undefined;
  for (const swing of swings) {
    const found = search(swing, rate_Hz);
    if (found !== undefined && (best === undefined || found.explained > best.explained)) best = found;
  }
  return best !== undefined && best.explained > leastExplained ? best : undefined;
}

function search({ samples, from, to, missing }: Swing, rate_Hz: number) {
  const stride = Math.max(1, Math.min(Math.floor((to - from) / samplesUsed), Math.floor(rate_Hz / 3000)));
  const n = Math.floor((to - from) / stride);
  const step_s = stride / rate_Hz;
  const lowest_Hz = Math.max(least_Hz, leastSwings / (n * step_s));
  if (n < 24 || lowest_Hz > usual_Hz) return undefined;
  const counts = Uint8Array.from({ length: n }, (_, i) => (missing?.[from + i * stride] === 1 ? 0 : 1));
  const y = Float64Array.from(counts, (one, i) => one * samples[from + i * stride]!);
  const cubic = polynomials(counts);
  const total = square(takeOut(y, cubic));
  if (!(total > 0)) return undefined;
  const mode = { cos: new Float64Array(n), sin: new Float64Array(n) };
  const explained = (frequency_Hz: number, damping: number) =>
    explainedBy(y, counts, cubic, mode, frequency_Hz, damping, step_s) / total;

  const highest_Hz = Math.min(greatest_Hz, 0.42 / step_s);
  let best = { frequency_Hz: 0, damping: 0, explained: 0 };
  const consider = (frequency_Hz: number, damping: number) => {
    const part = explained(frequency_Hz, damping);
    if (part > best.explained) best = { frequency_Hz, damping, explained: part };
  };
  for (let f = lowest_Hz; f < highest_Hz; f *= 1.04) for (const damping of dampings) consider(f, damping);
  if (best.explained === 0) return undefined;
  for (const [part, factor] of [
    [0.015, 1.5],
    [0.005, 1.2],
    [0.0015, 1.07],
  ] as const) {
    const { frequency_Hz, damping } = best;
    for (let i = -3; i <= 3; i++) {
      for (let j = -2; j <= 2; j++)
        consider(frequency_Hz * (1 + i * part), Math.min(greatestDamping, damping * factor ** j));
    }
  }
  return best;
}

/** Four polynomials, orthonormal over the samples that count. */
function polynomials(counts: Uint8Array): Float64Array[] {
  const n = counts.length;
  const found: Float64Array[] = [];
  for (let power = 0; power < 4; power++) {
    const column = takeOut(
      Float64Array.from(counts, (one, i) => one * (i / (n - 1) - 0.5) ** power),
      found,
    );
    const norm = Math.sqrt(square(column));
    found.push(column.map((x) => x / norm));
  }
  return found;
}

function takeOut(column: Float64Array, basis: readonly Float64Array[]): Float64Array {
  for (const b of basis) {
    let dot = 0;
    for (let i = 0; i < column.length; i++) dot += column[i]! * b[i]!;
    for (let i = 0; i < column.length; i++) column[i] = column[i]! - dot * b[i]!;
  }
  return column;
}

function square(column: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < column.length; i++) sum += column[i]! ** 2;
  return sum;
}

/** Sum of squares of y, its cubic gone, that a damped cosine and sine take away. */
function explainedBy(
  y: Float64Array,
  counts: Uint8Array,
  cubic: readonly Float64Array[],
  { cos, sin }: { readonly cos: Float64Array; readonly sin: Float64Array },
  frequency_Hz: number,
  damping: number,
  step_s: number,
): number {
  const omega = 2 * Math.PI * frequency_Hz;
  const decay = Math.exp(-damping * omega * step_s);
  const turn = omega * Math.sqrt(1 - damping ** 2) * step_s;
  const re = decay * Math.cos(turn);
  const im = decay * Math.sin(turn);
  let c = 1;
  let s = 0;
  for (let i = 0; i < y.length; i++) {
    cos[i] = counts[i]! * c;
    sin[i] = counts[i]! * s;
    const next = c * re - s * im;
    s = c * im + s * re;
    c = next;
  }
  takeOut(cos, cubic);
  takeOut(sin, cubic);
  let cc = 0;
  let cs = 0;
  let ss = 0;
  let cy = 0;
  let sy = 0;
  for (let i = 0; i < y.length; i++) {
    cc += cos[i]! * cos[i]!;
    cs += cos[i]! * sin[i]!;
    ss += sin[i]! * sin[i]!;
    cy += cos[i]! * y[i]!;
    sy += sin[i]! * y[i]!;
  }
  const determinant = cc * ss - cs * cs;
  if (!(determinant > 1e-9 * cc * ss)) return 0;
  return (cy * (cy * ss - sy * cs) + sy * (sy * cc - cy * cs)) / determinant;
}

/**
 * The force that drives the stand: low-passed, and with the mode taken out by its own equation
 * F = S + (2ζ/ω) S′ + S″/ω², so that the water's end is not smeared over the ringing. Over three samples
 * it is written with the mode's own poles, which takes a free swing out whole at any rate.
 */
export function withoutRinging(
  stand_N: Float64Array,
  rate_Hz: number,
  ringing: Ringing | undefined,
  corner_Hz: number,
): Float64Array {
  const smooth = lowPass(stand_N, rate_Hz, corner_Hz);
  if (ringing === undefined) return smooth;
  const omega = (2 * Math.PI * ringing.frequency_Hz) / rate_Hz;
  const decay = Math.exp(-ringing.damping * omega);
  const twice = 2 * decay * Math.cos(omega * Math.sqrt(1 - ringing.damping ** 2));
  const last = decay ** 2;
  const gain = 1 / (1 - twice + last);
  const out = smooth.slice();
  for (let i = 1; i < smooth.length - 1; i++) {
    out[i] = gain * (smooth[i + 1]! - twice * smooth[i]! + last * smooth[i - 1]!);
  }
  return out;
}
