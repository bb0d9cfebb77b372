import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseSetup } from "../../../core/exchange/setup.ts";
import { fillOptimum, objectives } from "../../../core/plan/fill-optimum.ts";
import { evenly, mapQuantities, performanceMap } from "../../../core/plan/performance-map.ts";
import { supplyBudget, supplyOutlook } from "../../../core/plan/supply-budget.ts";
import { predict } from "../../../core/propulsion/prediction.ts";

const parsed = parseSetup(
  {
    water_kg: 0.6,
    setPressure_Pa: 3e5,
    bottleVolume_m3: 0.0015,
    openingDiameter_m: 0.0217,
    bottleDiameter_m: 0.088,
    polytropicExponent: 1.25,
  },
  "predict",
);
if (!parsed.ok) throw new Error("setup");
const { setup } = parsed.value;

describe("performance map", () => {
  const axes = { water_kg: evenly(0.1, 1.4, 14), setPressure_Pa: evenly(1e5, 6e5, 6) };
  const map = performanceMap(setup, axes);

  test("holds at every point what a prediction says there", () => {
    for (const [i, setPressure_Pa] of axes.setPressure_Pa.entries()) {
      for (const [j, water_kg] of axes.water_kg.entries()) {
        const one = predict({ ...setup, water_kg, setPressure_Pa });
        if (!one.ok) throw new Error("prediction");
        const at = i * axes.water_kg.length + j;
        expect(map.values.impulse_Ns[at]).toBe(one.value.impulse_Ns);
        expect(map.values.specificImpulse_s[at]).toBe(one.value.specificImpulse_s);
        expect(map.values.thrustStart_N[at]).toBe(one.value.water.thrustStart_N);
        expect(map.values.duration_s[at]).toBe(one.value.water.duration_s + one.value.air.duration_s);
        expect(map.values.left_kg[at]).toBe(one.value.water.left_kg);
      }
    }
  });

  test("has a finite number for every quantity everywhere", () => {
    for (const quantity of mapQuantities) expect([...map.values[quantity]].every(Number.isFinite)).toBe(true);
  });

  test("leaves the setup that it was given as it was", () => {
    expect(setup).toMatchObject({ water_kg: 0.6, setPressure_Pa: 3e5 });
  });

  test("does not run outside the bottle", () => {
    expect(() => performanceMap(setup, { ...axes, water_kg: [0.5, 1.5] })).toThrow("outside the bottle");
  });
});

describe("optimum", () => {
  const range = { least_kg: 0.1, greatest_kg: 1.45 };
  const optimum = (objective: (typeof objectives)[number]) => {
    const result = fillOptimum(setup, objective, range);
    if (!result.ok) throw new Error("optimum");
    return result.value;
  };

  test("is better than any other fill of its range, for each objective by itself", () => {
    for (const objective of objectives) {
      const best = optimum(objective);
      fc.assert(
        fc.property(fc.double({ min: 0.1, max: 1.45, noNaN: true }), (water_kg) => {
          const other = predict({ ...setup, water_kg });
          if (!other.ok) throw new Error("prediction");
          const value = objective === "jetEnergy_J" ? other.value.water.jetEnergy_J : other.value[objective]!;
          expect(value).toBeLessThanOrEqual(best.value * (1 + 1e-12));
        }),
      );
    }
  });

  test("differs between impulse and specific impulse", () => {
    expect(optimum("impulse_Ns").at).toBe("inside");
    expect(optimum("specificImpulse_s").at).toBe("least");
    expect(optimum("impulse_Ns").water_kg).toBeGreaterThan(5 * optimum("specificImpulse_s").water_kg);
  });

  test("says when the range and not the physics decides", () => {
    const result = fillOptimum(setup, "impulse_Ns", { least_kg: 0.1, greatest_kg: 0.4 });
    expect(result.ok && result.value).toMatchObject({ at: "greatest", water_kg: 0.4 });
  });

  test("refuses a range that is empty or outside the bottle, saying both", () => {
    const result = fillOptimum(setup, "impulse_Ns", { least_kg: 2, greatest_kg: 1.6 });
    expect(result.ok ? [] : result.issues.map(({ code }) => code)).toEqual([
      "fill-range-empty",
      "fill-outside-bottle",
    ]);
  });
});

describe("supply", () => {
  const tank = { volume_m3: 0.01, pressure_Pa: 8e5, workingMin_Pa: 4e5 };
  const line = { hoseVolume_m3: 5e-5, regulatorDrop_Pa: 5e4 };
  const fill = { setPressure_Pa: 3e5, airVolume_m3: 9e-4 };

  test("gives the same count one by one and at once, for any tank", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 0.05, noNaN: true }),
        fc.double({ min: 1e5, max: 1.2e6, noNaN: true }),
        (volume_m3, pressure_Pa) => {
          const any = { ...tank, volume_m3, pressure_Pa };
          const budget = supplyBudget(any, line, fill);
          const outlook = supplyOutlook(any, line, Array(budget.fills + 3).fill(fill));
          // A fill that ends exactly at the floor may fall to either side by rounding.
          const good = outlook.filter(({ verdict }) => verdict !== "supply-short").length;
          const inBand = outlook.filter(({ verdict }) => verdict === "good").length;
          expect(Math.abs(good - budget.fills)).toBeLessThanOrEqual(
            pressure_Pa % budget.dropPerFill_Pa < 1 ? 1 : 0,
          );
          expect(Math.abs(inBand - budget.fillsInBand)).toBeLessThanOrEqual(1);
          expect(budget.fillsInBand).toBeLessThanOrEqual(budget.fills);
        },
      ),
    );
  });

  test("calls for a refill at the band before the set pressure is out of reach", () => {
    const budget = supplyBudget(tank, line, fill);
    expect(budget).toMatchObject({ fills: 15, fillsInBand: 14 });
    const outlook = supplyOutlook(tank, line, Array(17).fill(fill));
    expect(outlook.map(({ verdict }) => verdict).slice(13)).toEqual([
      "good",
      "below-band",
      "supply-short",
      "supply-short",
    ]);
  });

  test("a fill that fails takes nothing, and a gentler one after it may still succeed", () => {
    const outlook = supplyOutlook({ ...tank, pressure_Pa: 3.6e5 }, line, [
      fill,
      { ...fill, setPressure_Pa: 2e5 },
    ]);
    expect(outlook.map(({ verdict }) => verdict)).toEqual(["supply-short", "below-band"]);
    expect(outlook[0]!.after_Pa).toBe(3.6e5);
  });

  test("an empty tank gives none", () => {
    expect(supplyBudget({ ...tank, pressure_Pa: 2e5 }, line, fill)).toMatchObject({
      fills: 0,
      fillsInBand: 0,
    });
  });
});
