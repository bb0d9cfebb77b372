import { readFileSync } from "node:fs";
import betainc from "@stdlib/math-base-special-betainc";
import { expect, test } from "vitest";
import { waterDensity_kg_m3 } from "../../core/propulsion/water-density.ts";
import { integrate, quadrature } from "./independent-numerics.ts";
import { nominal, predictionOf, relative } from "./prediction-cases.ts";

const { bottleDiameter_m: _, ...plain } = nominal;
const [Vb, pa, p0, rho] = [plain.bottleVolume_m3, 101_325, 401_325, waterDensity_kg_m3(20)];
const V0 = Vb - plain.water_kg / rho;
const Aj = (Math.PI / 4) * plain.openingDiameter_m ** 2;

/** Impulse and duration of the water phase by one route. */
type Route = (n: number) => readonly [impulse_Ns: number, duration_s: number];

const speed = (n: number, V: number) => Math.sqrt((2 * (p0 * (V0 / V) ** n - pa)) / rho);

const ours: Route = (polytropicExponent) => {
  const { water } = predictionOf({ ...plain, polytropicExponent });
  return [water.impulse_Ns, water.duration_s];
};

const closed: Route = (n) => {
  const beta = (from: number, to: number, a: number, b: number) =>
    (betainc(to, a, b) - betainc(from, a, b)) * betainc(1, a, b, false);
  const [x0, x1] = [pa / p0, (pa / p0) * (Vb / V0) ** n];
  const scale = (V0 * (p0 / pa) ** (1 / n)) / n;
  const duration = (Math.sqrt(rho / (2 * pa)) / Aj) * scale * beta(x0, x1, 1 / n + 0.5, 0.5);
  if (n > 1) return [Math.sqrt(2 * rho * pa) * scale * beta(x0, x1, 1 / n - 0.5, 1.5), duration];
  const a = p0 * V0;
  const primitive = (V: number) =>
    Math.sqrt(V * (a - pa * V)) + (a / Math.sqrt(pa)) * Math.asin(Math.sqrt((pa * V) / a));
  return [Math.sqrt(2 * rho) * (primitive(Vb) - primitive(V0)), duration];
};

const overVolume: Route = (n) => [
  quadrature((V) => rho * speed(n, V), V0, Vb),
  quadrature((V) => 1 / (Aj * speed(n, V)), V0, Vb),
];

const inTime: Route = (n) => {
  const { t, y } = integrate({
    start: [V0, 0],
    slope: (_t, [V]) => {
      const v = speed(n, V!);
      return [Aj * v, rho * Aj * v * v];
    },
    goesOn: (_t, [V]) => Vb - V!,
    tolerance: 1e-12,
    scale: [1e-3, 1],
  });
  return [y[1]!, t];
};

const routes = [ours, closed, overVolume, inTime];
const exponents = [1.4, 1.3, 1.2, 1.1, 1];

function crossCheckTable(): string {
  const rows = exponents.flatMap((n) => {
    const results = routes.map((route) => route(n));
    return [0, 1].map((quantity) => {
      const values = results.map((result) => result[quantity]!);
      const worst = Math.max(...values.map((value) => relative(value, values[0]!)));
      const name = quantity === 0 ? "I, N s" : "t, s";
      return `| ${n} | ${name} | ${values.map((v) => v.toFixed(9)).join(" | ")} | ${worst < 1e-10 ? "< 1e-10" : worst.toExponential(0)} |`;
    });
  });
  return [
    "| n | | ours | closed form | quadrature | time steps | worst |",
    "| --- | --- | --- | --- | --- | --- | --- |",
    ...rows,
  ].join("\n");
}

test("four routes agree to 1e-9 in impulse and duration", () => {
  for (const n of exponents) {
    const [first, ...others] = routes.map((route) => route(n));
    for (const other of others) {
      expect(relative(other[0], first![0])).toBeLessThan(1e-9);
      expect(relative(other[1], first![1])).toBeLessThan(1e-9);
    }
  }
});

test("the table in docs/model.md is what the routes give", () => {
  const text = readFileSync(new URL("../../docs/model.md", import.meta.url), "utf8");
  expect(text).toContain(crossCheckTable());
});
