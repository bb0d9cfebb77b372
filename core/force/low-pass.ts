/** One second-order section, direct form II transposed. */
type Section = {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
};

/**
 * Second-order Butterworth low-pass by the bilinear transform, its corner prewarped.
 * @source the analogue prototype 1/(s² + √2 s + 1); checked against |H(f)|² = 1/(1 + (tan(πf/fs)/tan(πfc/fs))⁴)
 *   in tests/reference/force-pulses.reference.test.ts
 */
function butterworth(corner_Hz: number, rate_Hz: number): Section {
  const w = Math.tan((Math.PI * corner_Hz) / rate_Hz);
  const norm = 1 / (1 + Math.SQRT2 * w + w * w);
  return {
    b0: w * w * norm,
    b1: 2 * w * w * norm,
    b2: w * w * norm,
    a1: 2 * (w * w - 1) * norm,
    a2: (1 - Math.SQRT2 * w + w * w) * norm,
  };
}

/**
 * Low-pass without delay: a second-order Butterworth run forward and backward, so that the gain at
 * the corner is one half. The ends are continued by their own values turned about the end point.
 * @param corner_Hz  below half the rate, else the samples are returned as they are
 */
export function lowPass(samples: Float64Array, rate_Hz: number, corner_Hz: number): Float64Array {
  const n = samples.length;
  if (corner_Hz >= 0.45 * rate_Hz || n < 4) return samples.slice();
  const section = butterworth(corner_Hz, rate_Hz);
  const pad = Math.min(n - 1, Math.ceil((1.5 * rate_Hz) / corner_Hz));
  const out = new Float64Array(n + 2 * pad);
  for (let i = 0; i < pad; i++) {
    out[i] = 2 * samples[0]! - samples[pad - i]!;
    out[n + pad + i] = 2 * samples[n - 1]! - samples[n - 2 - i]!;
  }
  out.set(samples, pad);
  run(section, out, 1);
  run(section, out, -1);
  return out.slice(pad, pad + n);
}

/** In place, in one direction, starting from rest at the first value. */
function run(s: Section, x: Float64Array, direction: 1 | -1) {
  const first = direction === 1 ? 0 : x.length - 1;
  const start = x[first]!;
  // The state of a filter that has seen `start` for ever.
  let z2 = (s.b2 - s.a2) * start;
  let z1 = (s.b1 - s.a1) * start + z2;
  for (let k = 0, i = first; k < x.length; k++, i += direction) {
    const input = x[i]!;
    const output = s.b0 * input + z1;
    z1 = s.b1 * input - s.a1 * output + z2;
    z2 = s.b2 * input - s.a2 * output;
    x[i] = output;
  }
}
