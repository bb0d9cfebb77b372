/** Nodes and weights on [-1, 1], nodes rising. */
export type GaussRule = {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
};

/**
 * Gauss-Legendre rule: exact for polynomials up to degree 2 n - 1, and for the smooth integrands
 * here its error falls by a constant factor with each node.
 * @param n  number of nodes, at least 1
 * @source Abramowitz and Stegun 25.4.29, 25.4.30; nodes by Newton's method from 22.16.6
 */
export function gaussLegendre(n: number): GaussRule {
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 0;
    for (let step = 0; step < 8; step++) {
      const p = legendre(x, n + 1);
      slope = (n * (p[n - 1]! - x * p[n]!)) / (1 - x * x);
      x -= p[n]! / slope;
    }
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

/**
 * Integrals from -1 up to each node, for integrands known at the nodes: row k of the result times
 * the values gives the integral from -1 to node k, as exact as the rule itself.
 * @returns n × n matrix, row after row
 */
export function runningIntegral({ nodes, weights }: GaussRule): Float64Array {
  const n = nodes.length;
  const matrix = new Float64Array(n * n);
  const atNode = Array.from(nodes, (x) => legendre(x, n + 1));
  for (let k = 0; k < n; k++) {
    for (let j = 0; j < n; j++) {
      // The interpolant in Legendre terms, integrated by (2 m + 1) P_m = P'_(m+1) - P'_(m-1).
      let sum = nodes[k]! + 1;
      for (let m = 1; m < n; m++) sum += atNode[j]![m]! * (atNode[k]![m + 1]! - atNode[k]![m - 1]!);
      matrix[k * n + j] = (weights[j]! / 2) * sum;
    }
  }
  return matrix;
}

/** Legendre polynomials of degree 0 to `greatest` at x. */
function legendre(x: number, greatest: number): Float64Array {
  const p = new Float64Array(greatest + 1);
  p[0] = 1;
  p[1] = x;
  for (let m = 1; m < greatest; m++) p[m + 1] = ((2 * m + 1) * x * p[m]! - m * p[m - 1]!) / (m + 1);
  return p;
}
