import { gaussLegendre, runningIntegral } from "./gauss-legendre.ts";

/**
 * A stretch of a quantity y that runs after a target D, dy/dx = g (D - y): slowly, or so fast that
 * steps would have to be tiny. It is solved for a polynomial that meets the equation at Gauss nodes,
 * which holds for any g > 0, and is read by interpolation in t, 0 to 1 along the stretch.
 */
export type Relaxation = {
  /** y at `places`. */
  readonly values: Float64Array;
};

export type Pursuit = {
  readonly length: number;
  /** y at t = 0. */
  readonly start: number;
  /** g at t, per unit of x; asked inside the stretch only. */
  readonly rate: (t: number) => number;
  /** D at t. */
  readonly target: (t: number) => number;
};

/** exp(-16) to exp(0) over a stretch is met to 1e-7. */
const rule = gaussLegendre(16);
const running = runningIntegral(rule);
const n = rule.nodes.length;

/** The start and the nodes, as parts of the stretch. */
const places = Float64Array.from([0, ...Array.from(rule.nodes, (node) => (1 + node) / 2)]);
/** Barycentric: 1/∏ (place - other). */
const pulls = places.map(
  (place, k) => 1 / places.reduce((all, other, j) => (j === k ? all : all * (place - other)), 1),
);

/**
 * @param pursuit  length and rate positive
 * @source docs/model.md#throw; Hairer and Wanner, Solving Ordinary Differential Equations II, IV.5: Gauss collocation is A-stable
 * (remembered); checked in tests/core/propulsion/relaxation.test.ts
 */
export function relaxation({ length, start, rate, target }: Pursuit): Relaxation {
  // For the lag e = D - y the equations are (1 + R g) e = D - start, R the running integrals.
  const pace = new Float64Array(n);
  const goal = new Float64Array(n);
  const lag = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    pace[k] = (length / 2) * rate(places[k + 1]!);
    goal[k] = target(places[k + 1]!);
    lag[k] = goal[k]! - start;
  }
  const matrix = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    for (let j = 0; j < n; j++) matrix[k * n + j] = running[k * n + j]! * pace[j]! + (j === k ? 1 : 0);
  }
  solve(matrix, lag);
  const values = new Float64Array(n + 1);
  values[0] = start;
  for (let k = 0; k < n; k++) values[k + 1] = goal[k]! - lag[k]!;
  return { values };
}

/** y at t; by the second barycentric form, which keeps the digits of a small y near a start of 0. */
export function relaxedAt({ values }: Relaxation, t: number): number {
  let above = 0;
  let below = 0;
  for (let k = 0; k <= n; k++) {
    const distance = t - places[k]!;
    if (distance === 0) return values[k]!;
    const pull = pulls[k]! / distance;
    above += pull * values[k]!;
    below += pull;
  }
  return above / below;
}

/** Gauss's elimination with the greatest pivot of each column, in place: `right` becomes the solution. */
function solve(matrix: Float64Array, right: Float64Array): void {
  for (let column = 0; column < n; column++) {
    pivot(matrix, right, column);
    const top = column * n;
    const inverse = 1 / matrix[top + column]!;
    for (let row = column + 1; row < n; row++) {
      const here = row * n;
      const factor = matrix[here + column]! * inverse;
      for (let j = column + 1; j < n; j++) matrix[here + j]! -= factor * matrix[top + j]!;
      right[row]! -= factor * right[column]!;
    }
  }
  for (let row = n - 1; row >= 0; row--) {
    let rest = right[row]!;
    for (let j = row + 1; j < n; j++) rest -= matrix[row * n + j]! * right[j]!;
    right[row] = rest / matrix[row * n + row]!;
  }
}

function pivot(matrix: Float64Array, right: Float64Array, column: number): void {
  let greatest = column;
  for (let row = column + 1; row < n; row++) {
    if (Math.abs(matrix[row * n + column]!) > Math.abs(matrix[greatest * n + column]!)) greatest = row;
  }
  if (greatest === column) return;
  for (let j = column; j < n; j++) swap(matrix, greatest * n + j, column * n + j);
  swap(right, greatest, column);
}

function swap(list: Float64Array, a: number, b: number): void {
  const kept = list[a]!;
  list[a] = list[b]!;
  list[b] = kept;
}
