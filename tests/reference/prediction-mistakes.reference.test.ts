import { describe, expect, test } from "vitest";
import { polytropicPrior } from "../../core/propulsion/polytropic-prior.ts";
import { predictionBudget } from "../../core/propulsion/prediction-budget.ts";
import { nominal, predictionOf, setupOf } from "./prediction-cases.ts";

const at = (changed: Record<string, unknown>) =>
  predictionOf({ ...nominal, polytropicExponent: 1.4, ...changed });
const percent = (found: number, expected: number) => 100 * (found / expected - 1);

/** PHYSICS.md section 11 (read): what a mistake does to the total impulse, rounded there as typed here. */
describe("sizes of mistakes, per cent of total impulse", () => {
  test("truth is n = 1.25 or 1.0 where 1.4 was assumed: +4.8, +13", () => {
    expect(percent(at({ polytropicExponent: 1.25 }).impulse_Ns, at({}).impulse_Ns)).toBeCloseTo(4.8, 1);
    expect(percent(at({ polytropicExponent: 1 }).impulse_Ns, at({}).impulse_Ns)).toBeCloseTo(13, 0);
  });

  test.each([
    [1.4, 1.5],
    [1.25, 1.9],
    [1.0, 2.6],
  ])("air phase left out at n = %d: -%d", (polytropicExponent, share) => {
    const { air, impulse_Ns } = at({ polytropicExponent });
    expect((100 * air.impulse_Ns) / impulse_Ns).toBeCloseTo(share, 1);
  });

  test("bottle 5 % larger than its label: +3.3", () => {
    expect(percent(at({ bottleVolume_m3: 0.001575 }).impulse_Ns, at({}).impulse_Ns)).toBeCloseTo(3.3, 1);
  });

  test("a site at 83.4 kPa, same gauge pressure: +3.0", () => {
    const change = percent(at({ ambientPressure_Pa: 83_400 }).impulse_Ns, at({}).impulse_Ns);
    expect(Math.abs(change - 3)).toBeLessThan(0.3);
  });

  test("a single coefficient of 0.95 is ambiguous: as contraction force -5 and impulse 0, as velocity -9.75 and -5", () => {
    const { bottleDiameter_m: _, ...plain } = nominal;
    const of = (changed: Record<string, unknown>) =>
      predictionOf({ ...plain, polytropicExponent: 1.4, ...changed });
    const [none, contracted, slowed] = [of({}), of({ contraction: 0.95 }), of({ velocityCoefficient: 0.95 })];
    expect(percent(contracted.water.impulse_Ns, none.water.impulse_Ns)).toBeCloseTo(0, 10);
    expect(percent(contracted.water.thrustStart_N, none.water.thrustStart_N)).toBeCloseTo(-5, 10);
    expect(percent(slowed.water.impulse_Ns, none.water.impulse_Ns)).toBeCloseTo(-5, 10);
    expect(percent(slowed.water.thrustStart_N, none.water.thrustStart_N)).toBeCloseTo(-9.75, 10);
  });

  test("the start spike carries the area ratio's share: 6.1", () => {
    expect(100 * (0.0217 / 0.088) ** 2).toBeCloseTo(6.1, 1);
  });
});

/** PHYSICS.md section 10 (read): k = 1, nominal, measured side's n = 1.25. */
describe("uncertainty of the predicted impulse", () => {
  const budget = predictionBudget(setupOf({ ...nominal, polytropicExponent: 1.25 }));
  const share = (quantity: string) =>
    (100 * budget.rows.find((row) => row.quantity === quantity)!.contribution_Ns) / budget.impulse_Ns;

  test.each([
    ["polytropicExponent", 1.54],
    ["velocityCoefficient", 1.0],
    ["setPressure_Pa", 0.75],
    ["bottleVolume_m3", 0.4],
    ["water_kg", 0.27],
    ["openingDiameter_m", 0.0],
  ])("%s contributes %d %", (quantity, expected) => {
    expect(Math.abs(share(quantity) - expected)).toBeLessThan(0.012);
  });

  test("all together 2.0 %", () => {
    expect((100 * budget.u_impulse_Ns) / budget.impulse_Ns).toBeCloseTo(2.0, 0);
    expect(Math.abs((100 * budget.u_impulse_Ns) / budget.impulse_Ns - 2.05)).toBeLessThan(0.05);
  });
});

/**
 * PHYSICS.md section 1 (read): exponents of saturated air, volume doubled from 2.8 bar gauge. The
 * balance below is written from scratch with the saturation line of IAPWS-IF97, region 4 (its
 * coefficients from memory; a wrong one would not give the document's four values).
 */
describe("exponent of saturated air", () => {
  const table = [
    [5, 1.375],
    [20, 1.338],
    [30, 1.298],
    [38, 1.258],
  ] as const;

  test.each(table)(
    "at %d °C is %d by the energy balance, and the prior's table follows it",
    (t, exponent) => {
      expect(saturatedExponent(t)).toBeCloseTo(exponent, 2);
      expect(Math.abs(saturatedExponent(t) - exponent)).toBeLessThan(0.0015);
      // The prior's upper end is that exponent and 0.042 for vapour that has no time; straight lines over 10 °C.
      const expected = Math.min(1.4, exponent + 0.042);
      expect(Math.abs(polytropicPrior(t).greatest - expected)).toBeLessThan(0.004);
    },
  );

  test("the prior at 20 °C is 1.2 to 1.38, rectangular", () => {
    const { mean, u, least, greatest } = polytropicPrior(20);
    expect(least).toBe(1.2);
    expect(greatest).toBeCloseTo(1.38, 3);
    expect(mean).toBeCloseTo(1.29, 3);
    expect(u).toBeCloseTo(0.18 / Math.sqrt(12), 3);
  });

  test("dry air may go all the way to 1.4", () => {
    expect(polytropicPrior(20, "dry").greatest).toBe(1.4);
  });
});

function saturatedExponent(start_C: number): number {
  const [Ra, Rv] = [287.05, 461.5];
  const p0 = 101_325 + 2.8e5;
  let T = start_C + 273.15;
  const air_kg = (p0 - saturation_Pa(T)) / (Ra * T);
  const water_kg = saturation_Pa(T) / (Rv * T);
  const slope = (V: number, T: number) => {
    const p = saturation_Pa(T);
    const dp = (saturation_Pa(T + 0.01) - saturation_Pa(T - 0.01)) / 0.02;
    const vapour_kg = (p * V) / (Rv * T);
    const evaporation_J_kg = 2.501e6 - 2361 * (T - 273.15) - Rv * T;
    const capacity =
      air_kg * 718 +
      vapour_kg * 1410 +
      (water_kg - vapour_kg) * 4186 +
      evaporation_J_kg * (V / Rv) * (dp / T - p / T ** 2);
    return -((air_kg * Ra * T) / V + p + evaporation_J_kg * (p / (Rv * T))) / capacity;
  };
  const steps = 2000;
  const dV = 1 / steps;
  for (let i = 0; i < steps; i++) {
    const V = 1 + i * dV;
    T += slope(V + dV / 2, T + (slope(V, T) * dV) / 2) * dV;
  }
  const p = (air_kg * Ra * T) / 2 + saturation_Pa(T);
  return Math.log(p0 / p) / Math.log(2);
}

/** IAPWS-IF97, eq. (30); below 0 °C it runs on as supercooled water. */
function saturation_Pa(T: number): number {
  const n = [
    0, 1167.0521452767, -724213.16703206, -17.073846940092, 12020.82470247, -3232555.0322333, 14.91510861353,
    -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798,
  ] as const;
  const θ = T + n[9] / (T - n[10]);
  const A = θ * θ + n[1] * θ + n[2];
  const B = n[3] * θ * θ + n[4] * θ + n[5];
  const C = n[6] * θ * θ + n[7] * θ + n[8];
  return 1e6 * ((2 * C) / (-B + Math.sqrt(B * B - 4 * A * C))) ** 4;
}
