import { describe, expect, test } from "vitest";
import { fillOptimum } from "../../core/plan/fill-optimum.ts";
import { hazardNumbers } from "../../core/plan/hazard-numbers.ts";
import { supplyBudget, supplyOutlook } from "../../core/plan/supply-budget.ts";
import { nominal, setupOf } from "./prediction-cases.ts";

const { bottleDiameter_m: _, ...ideal } = nominal;
const density = setupOf(ideal).waterDensity_kg_m3;
const range = { least_kg: 0.05, greatest_kg: 1.45 };

function optimumFor(
  changed: Record<string, unknown>,
  objective: "impulse_Ns" | "specificImpulse_s" | "jetEnergy_J",
) {
  const result = fillOptimum(setupOf({ ...ideal, ...changed }), objective, range);
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
}

/** PHYSICS.md section 9 (read): 1.5 L, no head and no area ratio, litres of water; rounded there to 1 mL. */
describe("fill for most impulse", () => {
  test.each([
    [1.2, 1.5, 0.712],
    [1.2, 2, 0.779],
    [1.2, 3, 0.856],
    [1.2, 4, 0.898],
    [1.2, 6, 0.941],
    [1.4, 1.5, 0.65],
    [1.4, 2, 0.717],
    [1.4, 3, 0.797],
    [1.4, 4, 0.841],
    [1.4, 6, 0.887],
  ])("n = %d, %d bar: %d L", (polytropicExponent, bar, litres) => {
    const optimum = optimumFor({ polytropicExponent, setPressure_Pa: bar * 1e5 }, "impulse_Ns");
    expect(optimum.at).toBe("inside");
    expect(Math.abs((optimum.water_kg / density) * 1e3 - litres)).toBeLessThan(0.0006);
  });

  test("does not depend on the opening", () => {
    const small = optimumFor({ polytropicExponent: 1.2, openingDiameter_m: 0.009 }, "impulse_Ns");
    const large = optimumFor({ polytropicExponent: 1.2 }, "impulse_Ns");
    expect(Math.abs(small.water_kg - large.water_kg)).toBeLessThan(1e-6);
  });

  test("at 3 bar a fill off by -10, +10, -20, +20 % costs 1.6, 2.0, 5.7, 10.5 %", () => {
    const { cost } = optimumFor({ polytropicExponent: 1.2 }, "impulse_Ns");
    const losses = Object.fromEntries(cost.map(({ relativeFill, loss }) => [relativeFill, 100 * loss]));
    expect(losses[-0.1]).toBeCloseTo(1.6, 1);
    expect(losses[0.1]).toBeCloseTo(2.0, 1);
    expect(losses[-0.2]).toBeCloseTo(5.7, 1);
    expect(losses[0.2]).toBeCloseTo(10.5, 1);
  });
});

test("specific impulse is most at the least fill: an end of the range, never mixed with impulse", () => {
  const optimum = optimumFor({ polytropicExponent: 1.2 }, "specificImpulse_s");
  expect(optimum).toMatchObject({ at: "least", water_kg: 0.05 });
});

/** PHYSICS.md section 9 (read): 10 L at 8 bar gauge, the nominal bottle and 50 mL of hose. */
describe("fills from a tank", () => {
  const tank = { volume_m3: 0.01, pressure_Pa: 8e5, workingMin_Pa: 4e5 };
  const line = { hoseVolume_m3: 5e-5, regulatorDrop_Pa: 0 };
  const fill = { setPressure_Pa: 3e5, airVolume_m3: 0.0015 - 0.7 / density };

  test("are 19, not the 33 of tank content over bottle content", () => {
    expect(supplyBudget(tank, line, fill).fills).toBe(19);
    expect(Math.floor((8e5 * 0.01) / (3e5 * fill.airVolume_m3))).toBe(33);
  });

  test("one by one give the same count, the last one still at the set pressure", () => {
    const outlook = supplyOutlook(tank, line, Array(25).fill(fill));
    expect(outlook.filter(({ verdict }) => verdict !== "supply-short")).toHaveLength(19);
    expect(outlook[18]!.after_Pa).toBeGreaterThanOrEqual(3e5);
    expect(outlook[19]!.verdict).toBe("supply-short");
  });
});

/** PHYSICS.md section 9 (read), energy bound of the height: 25, 13.0, 5.3 m for 1.05, 2.05, 5.05 kg. */
test.each([
  [1.05, 25],
  [2.05, 13],
  [5.05, 5.3],
])("all stored energy lifts %d kg by %d m at most", (ridingMass_kg, height_m) => {
  const { thrown } = hazardNumbers(setupOf({ ...nominal, polytropicExponent: 1.25 }), ridingMass_kg);
  expect(Math.abs(thrown.energyBoundHeight_m / height_m - 1)).toBeLessThan(0.015);
});
