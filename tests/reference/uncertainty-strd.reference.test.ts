import { describe, expect, test } from "vitest";
import { noise } from "../../core/force/marks.ts";
import { leastSquares } from "../../core/uncertainty/least-squares.ts";

/**
 * NIST Statistical Reference Datasets: data and certified values as remembered. A slip of memory in one
 * datum would show in the certified digits, which are all recomputed here. The nonlinear sets are in
 * tests/reference/uncertainty-nonlinear.reference.test.ts; the discharge itself enters linearly.
 */
const digits = (ours: number, certified: number) =>
  certified === 0 ? -Math.log10(Math.abs(ours) + 1e-16) : -Math.log10(Math.abs(ours / certified - 1) + 1e-16);

function regress(rows: readonly (readonly number[])[], y: readonly number[]) {
  const n = rows[0]!.length;
  const found = leastSquares(Float64Array.from(rows.flat()), Float64Array.from(y), n);
  const deviation = Math.sqrt(found.squares / found.freedom);
  return {
    b: [...found.parameters],
    sd: found.parameters.map((_, k) => deviation * Math.sqrt(found.inverse[k * n + k]!)),
    deviation,
  };
}

describe("linear regression", () => {
  test("Norris", () => {
    const x = [
      0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338,
      447.5, 11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3,
      229.2, 669.1, 448.9, 0.5,
    ];
    const y = [
      0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3,
      448.9, 10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6,
      228.9, 668.4, 449.2, 0.2,
    ];
    const { b, sd, deviation } = regress(
      x.map((v) => [1, v]),
      y,
    );
    expect(digits(b[0]!, -0.262323073774029)).toBeGreaterThan(11);
    expect(digits(b[1]!, 1.00211681802045)).toBeGreaterThan(13);
    expect(digits(sd[0]!, 0.232818234301152)).toBeGreaterThan(12);
    expect(digits(sd[1]!, 0.429796848199937e-3)).toBeGreaterThan(12);
    expect(digits(deviation, 0.884796396144373)).toBeGreaterThan(12);
  });

  test("Longley, whose columns are nearly alike", () => {
    const y = [
      60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331,
      70551,
    ];
    const x = [
      [83, 234289, 2356, 1590, 107608, 1947],
      [88.5, 259426, 2325, 1456, 108632, 1948],
      [88.2, 258054, 3682, 1616, 109773, 1949],
      [89.5, 284599, 3351, 1650, 110929, 1950],
      [96.2, 328975, 2099, 3099, 112075, 1951],
      [98.1, 346999, 1932, 3594, 113270, 1952],
      [99, 365385, 1870, 3547, 115094, 1953],
      [100, 363112, 3578, 3350, 116219, 1954],
      [101.2, 397469, 2904, 3048, 117388, 1955],
      [104.6, 419180, 2822, 2857, 118734, 1956],
      [108.4, 442769, 2936, 2798, 120445, 1957],
      [110.8, 444546, 4681, 2637, 121950, 1958],
      [112.6, 482704, 3813, 2552, 123366, 1959],
      [114.2, 502601, 3931, 2514, 125368, 1960],
      [115.7, 518173, 4806, 2572, 127852, 1961],
      [116.9, 554894, 4007, 2827, 130081, 1962],
    ];
    const { b, sd, deviation } = regress(
      x.map((row) => [1, ...row]),
      y,
    );
    const certified = [
      [-3482258.63459582, 890420.383607373],
      [15.0618722713733, 84.9149257747669],
      [-0.35819179292591e-1, 0.334910077722432e-1],
      [-2.02022980381683, 0.488399681651699],
      [-1.03322686717359, 0.214274163161675],
      [-0.511041056535807e-1, 0.22607320006937],
      [1829.15146461355, 455.478499142212],
    ];
    for (const [k, [value, uncertainty]] of certified.entries()) {
      expect(digits(b[k]!, value!), `B${k}`).toBeGreaterThan(7);
      expect(digits(sd[k]!, uncertainty!), `sd of B${k}`).toBeGreaterThan(7);
    }
    expect(digits(deviation, 304.854073561965)).toBeGreaterThan(10);
  });

  test("Wampler 1, a polynomial of the fifth degree with all coefficients one", () => {
    const x = Array.from({ length: 21 }, (_, i) => i);
    const rows = x.map((v) => [1, v, v ** 2, v ** 3, v ** 4, v ** 5]);
    const { b } = regress(
      rows,
      rows.map((row) => row.reduce((a, c) => a + c, 0)),
    );
    for (const [k, value] of b.entries()) expect(digits(value, 1), `B${k}`).toBeGreaterThan(7);
  });
});

describe("univariate statistics", () => {
  const alternating = (base: number) =>
    Float64Array.from({ length: 1001 }, (_, i) => base + (i === 0 ? 0.2 : i % 2 === 1 ? 0.1 : 0.3));
  test.each([
    ["NumAcc1", Float64Array.of(10000001, 10000003, 10000002), 10000002, 1, 15],
    ["NumAcc2", alternating(1), 1.2, 0.1, 13],
    ["NumAcc3", alternating(1_000_000), 1000000.2, 0.1, 8],
    ["NumAcc4", alternating(10_000_000), 10000000.2, 0.1, 7],
  ])("%s: mean and standard deviation", (_name, data, mean, deviation, least) => {
    const found = noise(data, data.length);
    expect(digits(found.mean, mean)).toBeGreaterThan(13);
    expect(digits(found.deviation, deviation)).toBeGreaterThan(least);
  });
});
