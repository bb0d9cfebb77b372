import { assert } from "../assert.ts";

/**
 * Two-sided quantile of Student's t: the factor k for which ±k u holds a part of the values.
 * @param part  0 < part < 1, such as 0.95
 * @param freedom  degrees of freedom > 0; Infinity gives the normal's
 * @source t tables of NIST/SEMATECH and of JCGM 100:2008 (GUM), table G.2
 *   (tests/reference/uncertainty-student-t.reference.test.ts)
 */
export function coverageFactor(part: number, freedom: number): number {
  assert(part > 0 && part < 1 && freedom > 0, "a part within (0, 1) and positive degrees of freedom");
  let high = 1;
  while (within(high, freedom) < part && high < 1e9) high *= 2;
  let low = 0;
  // Plain bisection: the distribution is monotonic and a factor is asked for once a result.
  for (let i = 0; i < 200 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2;
    if (within(middle, freedom) < part) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Probability that |t| is below a bound. */
function within(bound: number, freedom: number): number {
  if (freedom > 1e7) return gammaPart(0.5, (bound * bound) / 2);
  return 1 - betaPart(freedom / (freedom + bound * bound), freedom / 2, 0.5);
}

/** Regularised incomplete beta by its continued fraction. @source Abramowitz and Stegun 26.5.8, modified Lentz */
export function betaPart(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  // The fraction converges fast only below the mean; above it the complement is taken.
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(1 - x, b, a)) / b;
}

function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / Math.max(tiny, 1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || tiny);
    c = 1 + even / c || tiny;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || tiny);
    c = 1 + odd / c || tiny;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return h;
}

/** Regularised lower incomplete gamma by its series; the arguments here are small. */
function gammaPart(a: number, x: number): number {
  if (x <= 0) return 0;
  if (x > 700) return 1;
  let term = 1 / a;
  let sum = term;
  for (let n = 1; n < 5000 && term > sum * 1e-17; n++) {
    term *= x / (a + n);
    sum += term;
  }
  return Math.min(1, sum * Math.exp(-x + a * Math.log(x) - logGamma(a)));
}

/** @source Lanczos, SIAM J. Numer. Anal. B 1 (1964) 86, g = 7 and nine terms; good to 1e-15 for x > 0 */
export function logGamma(x: number): number {
  const terms = [
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
    12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const y = x - 1;
  let sum = terms[0]!;
  for (let i = 1; i < terms.length; i++) sum += terms[i]! / (y + i);
  const t = y + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (y + 0.5) * Math.log(t) - t + Math.log(sum);
}
