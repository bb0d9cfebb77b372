import { describe, expect, test } from "vitest";
import { leastSquares } from "../../core/uncertainty/least-squares.ts";

/**
 * NIST StRD, nonlinear regression: data, starts and certified values as remembered; the data give the
 * certified digits again, which a slip in one datum would not.
 * It is the linear step that is ours: Gauss and Newton's descent stands here, its steps, covariance and
 * residual come from core. The descent of core/compare/thrust-fit.ts is held by records of known exponent.
 */
const y = [
  10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
] as const;
const x = [
  77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760,
] as const;

type Pair = readonly [number, number];
type Model = { readonly at: (b: Pair, x: number) => number; readonly slopes: (b: Pair, x: number) => Pair };

const misra1a: Model = {
  at: ([b1, b2], t) => b1 * -Math.expm1(-b2 * t),
  slopes: ([b1, b2], t) => [-Math.expm1(-b2 * t), b1 * t * Math.exp(-b2 * t)],
};
const misra1b: Model = {
  at: ([b1, b2], t) => b1 * (1 - (1 + (b2 * t) / 2) ** -2),
  slopes: ([b1, b2], t) => [1 - (1 + (b2 * t) / 2) ** -2, b1 * t * (1 + (b2 * t) / 2) ** -3],
};

/** A step that makes it worse is halved. */
function descend(model: Model, start: Pair) {
  let b = start;
  const residuals = (at: Pair) => Float64Array.from(x, (t, i) => y[i]! - model.at(at, t));
  const cost = (at: Pair) => residuals(at).reduce((sum, r) => sum + r * r, 0);
  const linear = () => leastSquares(Float64Array.from(x.flatMap((t) => model.slopes(b, t))), residuals(b), 2);
  for (let round = 0; round < 60; round++) {
    const [s1, s2] = linear().parameters as unknown as Pair;
    let part = 1;
    const ahead = (): Pair => [b[0] + part * s1, b[1] + part * s2];
    while (part > 1e-6 && !(cost(ahead()) <= cost(b))) part /= 2;
    if (part <= 1e-6) break;
    b = ahead();
  }
  const squares = cost(b);
  const deviation = Math.sqrt(squares / (x.length - 2));
  const { inverse } = linear();
  return { b, squares, deviation, sd: [0, 3].map((k) => deviation * Math.sqrt(inverse[k]!)) };
}

describe.each([
  ["Misra1a", misra1a, [500, 1e-4], [250, 5e-4]],
  ["Misra1b", misra1b, [500, 1e-4], [300, 2e-4]],
] as const)("NIST StRD %s", (name, model, far, near) => {
  const certified = {
    Misra1a: {
      b: [238.94212918, 5.5015643181e-4],
      sd: [2.7070075241, 7.2668688436e-6],
      squares: 0.12455138894,
    },
    Misra1b: {
      b: [337.99746163, 3.9039091287e-4],
      sd: [3.1643950207, 4.2547321834e-6],
      squares: 0.075464681533,
    },
  }[name];

  test.each([
    ["far", far],
    ["near", near],
  ] as const)(
    "parameters, their deviations and the residual from the %s start, to eight digits",
    (_start, start) => {
      const found = descend(model, start);
      const within = (ours: number, theirs: number) =>
        expect(Math.abs(ours / theirs - 1), `${ours} for ${theirs}`).toBeLessThan(1e-8);
      for (const k of [0, 1]) {
        within(found.b[k]!, certified.b[k]!);
        within(found.sd[k]!, certified.sd[k]!);
      }
      within(found.squares, certified.squares);
    },
  );
});
