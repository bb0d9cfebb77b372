import { describe, expect, test } from "vitest";
import { fitBaseline } from "../../core/force/baseline.ts";
import { condition } from "../../core/force/condition.ts";
import { areaBetween } from "../../core/force/impulse.ts";
import { lowPass } from "../../core/force/low-pass.ts";
import { withoutRinging } from "../../core/force/ringing.ts";
import type { EventWindow } from "../../core/force/window.ts";

/**
 * Closed forms, worked out here: a pulse x through a first-order high-pass, Y = X s/(s + a) with a = 1/τ.
 * Rectangle F for D: y = F e^(−at), then −F (1 − e^(−aD)) e^(−a(t−D)). Exponential e^(−bt):
 * y = (b e^(−bt) − a e^(−at))/(b − a). The inverse is the trapezoidal rule, so errors go as (Δt)².
 */
const rate_Hz = 10_000;
const windowOf = (y: (t: number) => number, length_s: number): EventWindow => {
  const force_N = Float64Array.from({ length: Math.round(length_s * rate_Hz) }, (_, i) =>
    y((i + 0.5) / rate_Hz),
  );
  return {
    first: 0,
    each: 1,
    count: force_N.length,
    rate_Hz,
    start_s: 0,
    from: 0,
    to: force_N.length,
    tail: force_N.length,
    channels: [{ force_N, missing: 0, u_filled_Ns: 0 }],
    ringing: undefined,
  };
};
const baseline = (inverse_1_s: number) => ({ zero_N: 0, drift_N_s: 0, memory_N: 0, inverse_1_s, level_N: 0 });
const all = { zero: true, discharge: true, rebuild: true };
const undone = (y: (t: number) => number, length_s: number, tau_s: number) =>
  condition(windowOf(y, length_s), 0, baseline(1 / tau_s), all).force_N;

describe("a pulse through a first-order high-pass, in closed form", () => {
  const [force_N, duration_s] = [150, 0.1];
  test.each([0.35, 0.5, 2, 12, 60])("a rectangle is undone exactly, τ = %d s", (tau_s) => {
    const a = 1 / tau_s;
    const y = (t: number) =>
      t < duration_s
        ? force_N * Math.exp(-a * t)
        : -force_N * (1 - Math.exp(-a * duration_s)) * Math.exp(-a * (t - duration_s));
    const x = undone(y, 0.5, tau_s);
    for (const [i, value] of x.entries()) {
      const expected = (i + 0.5) / rate_Hz < duration_s ? force_N : 0;
      expect(Math.abs(value - expected)).toBeLessThan(0.02);
    }
    const area_Ns = x.reduce((sum, value) => sum + value, 0) / rate_Hz;
    expect(area_Ns / (force_N * duration_s)).toBeCloseTo(1, 4);
  });

  test.each([0.35, 0.5, 2, 12, 60])("an exponential is undone exactly, τ = %d s", (tau_s) => {
    const [a, b] = [1 / tau_s, 1 / 0.04];
    const y = (t: number) => (force_N * (b * Math.exp(-b * t) - a * Math.exp(-a * t))) / (b - a);
    const x = undone(y, 0.5, tau_s);
    for (const [i, value] of x.entries()) {
      expect(Math.abs(value - force_N * Math.exp((-b * (i + 0.5)) / rate_Hz))).toBeLessThan(0.02);
    }
  });

  test.each([0.35, 2, 20])(
    "the tail of a rectangle with a weight left tells τ = %d s without being told",
    (tau_s) => {
      const a = 1 / tau_s;
      const level_N = 6;
      // A step of the weight at the pulse's end on top of the rectangle, each drooping on its own.
      const y = (t: number) =>
        t < 0
          ? 0
          : -force_N * (1 - Math.exp(-a * duration_s)) * Math.exp(-a * (t - duration_s)) +
            level_N * Math.exp(-a * (t - duration_s));
      const integral = (t: number) =>
        (force_N * (1 - Math.exp(-a * duration_s))) / a +
        (-force_N * (1 - Math.exp(-a * duration_s)) + level_N) * ((1 - Math.exp(-a * (t - duration_s))) / a);
      const before = Array.from({ length: 40 }, (_, i) => -0.02 * (i + 1));
      const after = Array.from({ length: 100 }, (_, i) => 0.3 + 0.02 * i);
      const fit = fitBaseline(
        [
          {
            t_s: Float64Array.from([...before, ...after]),
            force_N: Float64Array.from(
              [...before.map(() => 0), ...after.map(y)],
              (x, i) => x + 1e-5 * Math.sin(7 * i),
            ),
            integral_Ns: Float64Array.from([...before.map(() => 0), ...after.map(integral)]),
            after: Uint8Array.from([...before.map(() => 0), ...after.map(() => 1)]),
          },
        ],
        { inverses: ["free"], impulses_Ns: [15] },
      );
      expect(1 / fit.channels[0]!.inverse_1_s / tau_s).toBeCloseTo(1, 3);
      expect(fit.channels[0]!.level_N).toBeCloseTo(level_N, 2);
    },
  );
});

describe("the zero-phase low-pass", () => {
  /** Butterworth of second order by the bilinear transform, run both ways: |H|² = 1/(1 + (tan πf/fs / tan πfc/fs)⁴). */
  test.each([10, 30, 60, 90, 155, 300])("has the gain of theory at %d Hz, and no delay", (f) => {
    const wave = Float64Array.from({ length: 20_000 }, (_, i) =>
      Math.cos((2 * Math.PI * f * (i - 10_000)) / 5000),
    );
    const out = lowPass(wave, 5000, 60);
    const gain = 1 / (1 + (Math.tan((Math.PI * f) / 5000) / Math.tan((Math.PI * 60) / 5000)) ** 4);
    expect(out[10_000]!).toBeCloseTo(gain, 6);
    expect(out[10_007]!).toBeCloseTo(out[9_993]!, 6);
  });

  test("keeps a constant and a straight line, its ends included", () => {
    const line = Float64Array.from({ length: 500 }, (_, i) => 3 + 0.01 * i);
    for (const [i, x] of lowPass(line, 2000, 60).entries()) expect(x).toBeCloseTo(line[i]!, 2);
  });
});

describe("the stand's mode", () => {
  /** Step of a damped mode, closed form: 1 − e^(−ζωt)(cos ω_d t + ζω/ω_d sin ω_d t); undone it is the step again. */
  test("is taken out exactly: the answer to a step becomes the step", () => {
    const [f, damping] = [150, 0.03];
    const omega = 2 * Math.PI * f;
    const damped = omega * Math.sqrt(1 - damping ** 2);
    const answer = Float64Array.from({ length: 6000 }, (_, i) => {
      const t = (i - 2000) / rate_Hz;
      if (t < 0) return 0;
      return (
        100 *
        (1 -
          Math.exp(-damping * omega * t) *
            (Math.cos(damped * t) + ((damping * omega) / damped) * Math.sin(damped * t)))
      );
    });
    const force = withoutRinging(answer, rate_Hz, { frequency_Hz: f, damping }, 100);
    const step = lowPass(
      Float64Array.from({ length: 6000 }, (_, i) => (i < 2000 ? 0 : 100)),
      rate_Hz,
      100,
    );
    // Differences over two samples stand for derivatives: a per cent or so of the step at this rate.
    for (let i = 500; i < 5500; i += 10) expect(Math.abs(force[i]! - step[i]!)).toBeLessThan(1.5);
  });
});

describe("areas", () => {
  test("between any two places agree with the integral of a sine", () => {
    const values = Float64Array.from({ length: 2001 }, (_, i) => Math.sin(i / 500));
    for (const [from, to] of [
      [0, 2000],
      [100.25, 1999.75],
      [700.5, 700.75],
      [3, 3.2],
    ] as const) {
      const exact = 500 * (Math.cos(from / 500) - Math.cos(to / 500));
      expect(areaBetween(values, from, to, 1)).toBeCloseTo(exact, 3);
    }
  });
});
