import { assert } from "../assert.ts";

/** What a linear fit found. */
export type LinearFit = {
  readonly parameters: Float64Array;
  /** Row-major inverse of the normal matrix: covariance for unit variance of the weighted rows. */
  readonly inverse: Float64Array;
  /** Weighted residuals, in the order of the rows. */
  readonly residuals: Float64Array;
  /** Sum of their squares. */
  readonly squares: number;
  readonly freedom: number;
  /** False where the rows do not determine every parameter. */
  readonly determined: boolean;
};

/** Columns whose pivot falls below this part of their length are linear in the others. */
const singular = 1e-13;

/**
 * Weighted linear least squares by Householder reflections: normal equations would square the
 * condition number, and a long discharge time looks much like a drift.
 * @param design  rows × parameters, row-major, each row already divided by its standard uncertainty
 * @param observed  one value a row, divided likewise; what is known beforehand is a row like any other
 * @source Golub, Numer. Math. 7 (1965) 206; checked on NIST StRD in tests/reference/uncertainty-strd.reference.test.ts
 */
export function leastSquares(design: Float64Array, observed: Float64Array, parameters: number): LinearFit {
  const rows = observed.length;
  assert(design.length === rows * parameters, "design and observations have the same rows");
  const a = design.slice();
  const b = observed.slice();
  const n = parameters;
  let determined = rows >= n;
  const lengths = columnLengths(a, rows, n);
  for (let k = 0; k < n && k < rows; k++) {
    const norm = lengthBelow(a, k, rows, n, k);
    if (!(norm > singular * lengths[k]!)) {
      determined = false;
      continue;
    }
    const head = a[k * n + k]! >= 0 ? norm : -norm;
    const pivot = a[k * n + k]! + head;
    // The reflector's first entry is kept apart: its place takes the diagonal of R.
    const scale = 1 / (head * pivot);
    for (let j = k + 1; j <= n; j++) {
      let dot = pivot * (j < n ? a[k * n + j]! : b[k]!);
      for (let i = k + 1; i < rows; i++) dot += a[i * n + k]! * (j < n ? a[i * n + j]! : b[i]!);
      dot *= scale;
      if (j < n) {
        a[k * n + j] = a[k * n + j]! - dot * pivot;
        for (let i = k + 1; i < rows; i++) a[i * n + j] = a[i * n + j]! - dot * a[i * n + k]!;
      } else {
        b[k] = b[k]! - dot * pivot;
        for (let i = k + 1; i < rows; i++) b[i] = b[i]! - dot * a[i * n + k]!;
      }
    }
    a[k * n + k] = -head;
  }
  const found = determined ? backSubstituted(a, b, n) : new Float64Array(n);
  const inverse = determined ? inverseNormal(a, n) : new Float64Array(n * n).fill(Number.POSITIVE_INFINITY);
  const residuals = new Float64Array(rows);
  let squares = 0;
  for (let i = 0; i < rows; i++) {
    let fitted = 0;
    for (let j = 0; j < n; j++) fitted += design[i * n + j]! * found[j]!;
    residuals[i] = observed[i]! - fitted;
    squares += residuals[i]! ** 2;
  }
  return { parameters: found, inverse, residuals, squares, freedom: rows - n, determined };
}

function columnLengths(a: Float64Array, rows: number, n: number): number[] {
  return Array.from({ length: n }, (_, k) => lengthBelow(a, 0, rows, n, k));
}

function lengthBelow(a: Float64Array, from: number, rows: number, n: number, k: number): number {
  let squares = 0;
  for (let i = from; i < rows; i++) squares += a[i * n + k]! ** 2;
  return Math.sqrt(squares);
}

function backSubstituted(r: Float64Array, b: Float64Array, n: number): Float64Array {
  const x = new Float64Array(n);
  for (let k = n - 1; k >= 0; k--) {
    let sum = b[k]!;
    for (let j = k + 1; j < n; j++) sum -= r[k * n + j]! * x[j]!;
    x[k] = sum / r[k * n + k]!;
  }
  return x;
}

/** (RᵀR)⁻¹ through the inverse of the triangle. */
function inverseNormal(r: Float64Array, n: number): Float64Array {
  const t = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    t[j * n + j] = 1 / r[j * n + j]!;
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0;
      for (let k = i + 1; k <= j; k++) sum -= r[i * n + k]! * t[k * n + j]!;
      t[i * n + j] = sum / r[i * n + i]!;
    }
  }
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = i; j < n; j++) {
      let sum = 0;
      for (let k = j; k < n; k++) sum += t[i * n + k]! * t[j * n + k]!;
      inverse[i * n + j] = sum;
      inverse[j * n + i] = sum;
    }
  }
  return inverse;
}
