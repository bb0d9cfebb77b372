import { describe, expect, test } from "vitest";
import { combine, correlationOf } from "../../core/uncertainty/budget.ts";
import { coverageFactor } from "../../core/uncertainty/student-t.ts";

/** JCGM 100:2008 (GUM), worked examples; the figures are remembered, the results recomputed from them. */
describe("GUM H.1, end-gauge calibration", () => {
  // Contributions in nanometres with their degrees of freedom, table H.1.
  const lines = [
    { source: "standard, certificate", u: 25, freedom: 18 },
    { source: "difference, repeated", u: 5.8, freedom: 24 },
    { source: "comparator, random", u: 3.9, freedom: 5 },
    { source: "comparator, systematic", u: 6.7, freedom: 8 },
    { source: "expansion, difference of coefficients", u: 2.9, freedom: 50 },
    { source: "temperature, difference", u: 16.6, freedom: 2 },
  ];
  const budget = combine(lines);

  test("combines to 32 nm", () => expect(Math.round(budget.u)).toBe(32));
  test("has 16 effective degrees of freedom", () => expect(budget.freedom).toBe(16));
  test("has a 99 % interval of ± 93 nm", () => {
    expect(Math.abs(coverageFactor(0.99, budget.freedom) * 32 - 93)).toBeLessThan(1);
  });
});

describe("GUM H.2, resistance and reactance measured together", () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999];
  const amperes = [19.663, 19.639, 19.64, 19.685, 19.678].map((x) => x * 1e-3);
  const radians = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
  const mean = (xs: readonly number[]) => xs.reduce((a, b) => a + b, 0) / xs.length;
  const covariance = (xs: readonly number[], ys: readonly number[]) => {
    const [mx, my] = [mean(xs), mean(ys)];
    return xs.reduce((sum, x, i) => sum + (x - mx) * (ys[i]! - my), 0) / (xs.length * (xs.length - 1));
  };
  const inputs = [volts, amperes, radians];
  const [v, i, phi] = inputs.map(mean) as [number, number, number];
  const u = inputs.map((xs) => Math.sqrt(covariance(xs, xs)));
  const r = (a: number, b: number) => correlationOf(covariance(inputs[a]!, inputs[b]!), u[a]!, u[b]!);

  /** The result's budget: each line is the sensitivity times u, with its sign. */
  const budgetOf = (sensitivities: readonly number[]) =>
    combine(
      sensitivities.map((c, k) => ({ source: String(k), u: c * u[k]!, freedom: 4 })),
      [
        { first: 0, second: 1, r: r(0, 1) },
        { first: 0, second: 2, r: r(0, 2) },
        { first: 1, second: 2, r: r(1, 2) },
      ],
    );
  const resistance = [Math.cos(phi) / i, (-v / i ** 2) * Math.cos(phi), (-v / i) * Math.sin(phi)];
  const reactance = [Math.sin(phi) / i, (-v / i ** 2) * Math.sin(phi), (v / i) * Math.cos(phi)];
  const impedance = [1 / i, -v / i ** 2, 0];

  test("the observations give the means, their uncertainties and correlations of table H.2", () => {
    expect([v, i * 1e3, phi].map((x) => Number(x.toFixed(5)))).toEqual([4.999, 19.661, 1.04446]);
    expect(u.map((x) => Number(x.toPrecision(2)))).toEqual([0.0032, 9.5e-6, 0.00075]);
    expect([r(0, 1), r(0, 2), r(1, 2)].map((x) => Number(x.toFixed(2)))).toEqual([-0.36, 0.86, -0.65]);
  });

  test.each([
    ["R", (v / i) * Math.cos(phi), resistance, 127.732, 0.071],
    ["X", (v / i) * Math.sin(phi), reactance, 219.847, 0.295],
    ["Z", v / i, impedance, 254.26, 0.236],
  ])(
    "%s and its combined uncertainty are those of table H.3",
    (_name, value, sensitivities, theirs, theirU) => {
      expect(value).toBeCloseTo(theirs, 2);
      expect(Math.abs(budgetOf(sensitivities).u - theirU)).toBeLessThan(6e-4);
    },
  );
});
