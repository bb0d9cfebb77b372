/**
 * Numerics that share nothing with core/propulsion, for routes that must not make its mistakes:
 * a double-exponential quadrature, a Dormand-Prince integrator with step control, and bisection.
 * Written from the formulas for these checks; they are slow and take no shortcut.
 */

/** ∫ f from a to b by the tanh-sinh rule: end points may be singular as long as the integral exists. */
export function quadrature(f: (x: number) => number, a: number, b: number): number {
  const half = (b - a) / 2;
  const step = 1 / 64;
  let sum = 0;
  for (let k = -320; k <= 320; k++) {
    const t = k * step;
    const u = (Math.PI / 2) * Math.sinh(t);
    const weight = ((Math.PI / 2) * Math.cosh(t)) / Math.cosh(u) ** 2;
    // Distance from the nearer end, so that a root there is met without loss of digits.
    const distance = half * (Math.exp(-Math.abs(u)) / Math.cosh(u));
    if (weight === 0 || distance === 0) continue;
    const value = f(u < 0 ? a + distance : b - distance);
    if (Number.isFinite(value)) sum += weight * value;
  }
  return sum * half * step;
}

export type State = readonly number[];
type Slope = (t: number, y: State) => State;

/** Dormand and Prince 1980, RK5(4)7M. */
const c = [0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1] as const;
const a: readonly (readonly number[])[] = [
  [],
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
const fourth = [5179 / 57600, 0, 7571 / 16695, 393 / 640, -92097 / 339200, 187 / 2100, 1 / 40] as const;

function tryStep(f: Slope, t: number, y: State, h: number): { next: State; error: State } {
  const k: State[] = [];
  for (let stage = 0; stage < 7; stage++) {
    const at = y.map((yi, i) => yi + h * k.reduce((sum, kj, j) => sum + (a[stage]![j] ?? 0) * kj[i]!, 0));
    k.push(f(t + c[stage]! * h, at));
  }
  const next = y.map((yi, i) => yi + h * a[6]!.reduce((sum, weight, j) => sum + weight * k[j]![i]!, 0));
  const lower = y.map((yi, i) => yi + h * fourth.reduce((sum, weight, j) => sum + weight * k[j]![i]!, 0));
  return { next, error: next.map((ni, i) => ni - lower[i]!) };
}

export type Course = {
  readonly start: State;
  readonly slope: Slope;
  /** Stops where this falls to zero. */
  readonly goesOn: (t: number, y: State) => number;
  readonly tolerance: number;
  /** Size of each component, for the absolute part of the tolerance. */
  readonly scale: State;
};

/** Integrates from t = 0 until `goesOn` falls to zero, which it finds by bisecting the last step. */
export function integrate(course: Course): { t: number; y: State } {
  const { slope, goesOn, tolerance, scale } = course;
  let [t, y, h] = [0, course.start, 1e-6];
  for (let count = 0; count < 2_000_000; count++) {
    const { next, error } = tryStep(slope, t, y, h);
    const worst = Math.max(...error.map((e, i) => Math.abs(e) / (scale[i]! + Math.abs(y[i]!)))) / tolerance;
    if (worst > 1 || !Number.isFinite(worst)) {
      h *= Number.isFinite(worst) ? Math.max(0.2, 0.9 * worst ** -0.2) : 0.1;
      continue;
    }
    if (goesOn(t + h, next) <= 0) {
      const last = bisection((part) => goesOn(t + part, tryStep(slope, t, y, part).next), 0, h);
      return { t: t + last, y: tryStep(slope, t, y, last).next };
    }
    [t, y] = [t + h, next];
    h *= Math.min(5, 0.9 * Math.max(worst, 1e-10) ** -0.2);
  }
  throw new Error("the course does not end");
}

/** Root of f, positive at `from` and not at `to`. */
export function bisection(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (f(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
