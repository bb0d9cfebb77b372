import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseSetup } from "../../../core/exchange/setup.ts";
import type { ShotSetup } from "../../../core/exchange/setup-shot.ts";
import { predict } from "../../../core/propulsion/prediction.ts";
import { predictionBudget } from "../../../core/propulsion/prediction-budget.ts";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Anything that the parser takes, its widest ranges included. */
const acceptedSetup: fc.Arbitrary<ShotSetup> = fc
  .record(
    {
      fill: fc.oneof(fc.constant(0), between(1e-4, 0.999)),
      setPressure_Pa: fc.oneof(between(2000, 5e6), between(5e4, 1e6)),
      bottleVolume_m3: between(1e-5, 0.2),
      openingDiameter_m: between(5e-4, 0.03),
      bottleDiameter_m: between(0.04, 0.3),
      neckLength_m: between(0, 0.2),
      ambientPressure_Pa: fc.oneof(between(2000, 150_000), between(5e4, 1.05e5)),
      waterTemperature_C: between(0, 40),
      airTemperature_C: between(-20, 60),
      polytropicExponent: fc.oneof(fc.constantFrom(1, 1.4), between(1, 1.4)),
      contraction: between(0.4, 1),
      velocityCoefficient: between(0.5, 1),
      headOfWater: fc.boolean(),
      gravity_m_s2: between(0.1, 30),
      ridingMass_kg: between(0.005, 100),
    },
    { requiredKeys: ["fill", "setPressure_Pa", "bottleVolume_m3", "openingDiameter_m"] },
  )
  .map(({ fill, ...json }) => {
    const result = parseSetup({ ...json, water_kg: fill * json.bottleVolume_m3 * 990 }, "predict");
    if (!result.ok) throw new Error(JSON.stringify(result.issues));
    return result.value.setup;
  });

const good = (setup: ShotSetup) => {
  const result = predict(setup);
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

const numbersIn = (value: unknown): number[] =>
  typeof value === "number"
    ? [value]
    : typeof value === "object" && value !== null
      ? Object.values(value).flatMap(numbersIn)
      : [];

describe("every accepted setup", () => {
  test("is predicted with finite numbers", () => {
    fc.assert(
      fc.property(acceptedSetup, (setup) => {
        expect(numbersIn(good(setup)).filter((value) => !Number.isFinite(value))).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });

  test("finds where the drive ends even in a column of 157 m under 3 g", () => {
    const result = parseSetup(
      {
        water_kg: 196.58,
        setPressure_Pa: 2000,
        bottleVolume_m3: 0.2,
        openingDiameter_m: 0.0005,
        bottleDiameter_m: 0.04,
        ambientPressure_Pa: 7577,
        gravity_m_s2: 30,
        polytropicExponent: 1.4,
      },
      "predict",
    );
    if (!result.ok) throw new Error("setup");
    const { water } = good(result.value.setup);
    expect(water.left_kg).toBeGreaterThan(0);
    expect(water.left_kg).toBeLessThan(0.5);
  });

  test("keeps its water: expelled and left are what was loaded", () => {
    fc.assert(
      fc.property(acceptedSetup, (setup) => {
        const { water } = good(setup);
        expect(Math.abs(water.expelled_kg + water.left_kg - setup.water_kg)).toBeLessThanOrEqual(
          1e-12 * (setup.water_kg + 1),
        );
        expect(Math.min(water.expelled_kg, water.left_kg)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  test("gives the water no more work than the air has: at most the isothermal availability", () => {
    fc.assert(
      fc.property(acceptedSetup, (setup) => {
        // With the head of water in, the air may be drawn a little past rest; the work then falls again.
        const { energy } = good({ ...setup, headOfWater: false });
        expect(energy.workOnWater_J).toBeLessThanOrEqual(energy.isothermalAvailable_J * (1 + 1e-9));
        expect(energy.isentropicAvailable_J).toBeLessThanOrEqual(energy.isothermalAvailable_J * (1 + 1e-9));
      }),
    );
  });

  test("throws lower and slower than the bounds say", () => {
    fc.assert(
      fc.property(acceptedSetup, between(0.05, 20), (setup, ridingMass_kg) => {
        const { throw: thrown, impulse_Ns } = good({ ...setup, ridingMass_kg });
        expect(thrown!.speed_m_s).toBeLessThanOrEqual(impulse_Ns / ridingMass_kg);
        expect(thrown!.height_m).toBeLessThanOrEqual(thrown!.heightBound_m * (1 + 1e-9));
        expect(thrown!.height_m).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  test("has a positive uncertainty, its budget the largest first and adding up in squares", () => {
    fc.assert(
      fc.property(acceptedSetup, (setup) => {
        const budget = predictionBudget(setup);
        const contributions = budget.rows.map((row) => row.contribution_Ns);
        expect(contributions).toEqual([...contributions].sort((a, b) => b - a));
        expect(budget.u_impulse_Ns).toBeCloseTo(Math.hypot(...contributions), 9);
        expect(good(setup).u.impulse_Ns).toBe(budget.u_impulse_Ns);
        expect(Math.abs(budget.impulse_Ns / good(setup).impulse_Ns - 1)).toBeLessThan(1e-5);
      }),
    );
  });
});

describe("sensitivities", () => {
  test("of the impulse are what central differences of whole predictions give", () => {
    fc.assert(
      fc.property(acceptedSetup, (any) => {
        const setup = { ...any, polytropicExponent: any.polytropicExponent ?? 1.29 };
        const air_m3 = setup.bottleVolume_m3 - setup.water_kg / setup.waterDensity_kg_m3;
        for (const { quantity, value, sensitivity } of predictionBudget(setup).rows) {
          // Steps inside the bottle, and outside the parser's ranges: the equations know no such limits. Its square is the error.
          const room =
            quantity === "bottleVolume_m3"
              ? air_m3
              : quantity === "water_kg"
                ? Math.min(value, air_m3 * 900)
                : value;
          const step = 3e-5 * room;
          if (!(step > 0)) continue;
          const at = (moved: number) => good({ ...setup, [quantity]: moved });
          const [above, below] = [at(value + step), at(value - step)];
          // Where water begins to be left the impulse has a corner, and no derivative.
          if (above.water.left_kg > 0 !== below.water.left_kg > 0 || above.air.choked !== below.air.choked)
            continue;
          const difference = (above.impulse_Ns - below.impulse_Ns) / (2 * step);
          const scale = above.impulse_Ns / room;
          expect(Math.abs(sensitivity - difference)).toBeLessThan(1e-5 * (Math.abs(difference) + scale));
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("laws of the equations", () => {
  const plain = acceptedSetup
    .filter((setup) => setup.water_kg > 0)
    .map(({ bottleDiameter_m: _, ...setup }) => ({ ...setup, headOfWater: false }));
  const same = (a: number, b: number, tolerance = 1e-9) =>
    expect(Math.abs(a - b)).toBeLessThanOrEqual(tolerance * (Math.abs(a) + Math.abs(b)) + 1e-300);

  test("contraction changes thrust and time, and no impulse", () => {
    fc.assert(
      fc.property(plain, (setup) => {
        const [wide, narrow] = [good({ ...setup, contraction: 1 }), good({ ...setup, contraction: 0.5 })];
        same(narrow.impulse_Ns, wide.impulse_Ns);
        same(narrow.water.duration_s, 2 * wide.water.duration_s);
        same(narrow.air.duration_s, 2 * wide.air.duration_s);
        same(narrow.water.thrustStart_N, wide.water.thrustStart_N / 2);
      }),
    );
  });

  test("the velocity coefficient scales the water's impulse linearly, thrust and energy by its square", () => {
    fc.assert(
      fc.property(plain, (setup) => {
        const [full, slow] = [
          good({ ...setup, velocityCoefficient: 1 }),
          good({ ...setup, velocityCoefficient: 0.8 }),
        ];
        same(slow.water.impulse_Ns, 0.8 * full.water.impulse_Ns);
        same(slow.water.duration_s, full.water.duration_s / 0.8);
        same(slow.water.thrustStart_N, 0.64 * full.water.thrustStart_N);
        same(slow.water.jetEnergy_J, 0.64 * full.water.jetEnergy_J);
      }),
    );
  });

  test("a bottle twice as long, wide and high has eight times the impulse in twice the time", () => {
    fc.assert(
      fc.property(
        plain.filter((setup) => setup.bottleVolume_m3 < 0.02),
        (setup) => {
          const double = {
            ...setup,
            water_kg: 8 * setup.water_kg,
            bottleVolume_m3: 8 * setup.bottleVolume_m3,
            openingDiameter_m: 2 * setup.openingDiameter_m,
          };
          const [one, eight] = [good(setup), good(double)];
          same(eight.impulse_Ns, 8 * one.impulse_Ns);
          same(eight.water.duration_s, 2 * one.water.duration_s);
          same(eight.air.duration_s, 2 * one.air.duration_s);
        },
      ),
    );
  });

  test("more pressure, or air that cools less, never gives less impulse", () => {
    fc.assert(
      fc.property(plain, (setup) => {
        const impulse = good({ ...setup, polytropicExponent: 1.3 }).impulse_Ns;
        const harder = good({
          ...setup,
          polytropicExponent: 1.3,
          setPressure_Pa: 1.1 * setup.setPressure_Pa,
        });
        const warmer = good({ ...setup, polytropicExponent: 1.2 });
        expect(harder.impulse_Ns).toBeGreaterThan(impulse);
        expect(warmer.water.impulse_Ns).toBeGreaterThan(
          good({ ...setup, polytropicExponent: 1.3 }).water.impulse_Ns,
        );
      }),
    );
  });

  test("the exponent's two ends are continuous: 1 is no special case", () => {
    fc.assert(
      fc.property(plain, (setup) => {
        const at = (polytropicExponent: number) => good({ ...setup, polytropicExponent });
        same(at(1).water.impulse_Ns, at(1 + 1e-9).water.impulse_Ns, 1e-6);
        same(at(1).energy.workOnWater_J, at(1 + 1e-9).energy.workOnWater_J, 1e-6);
      }),
    );
  });
});

describe("setups built by hand", () => {
  const setup = {
    water_kg: 0.7,
    setPressure_Pa: 3e5,
    bottleVolume_m3: 0.0015,
    openingDiameter_m: 0.0217,
    bottleDiameter_m: 0.088,
    neckDiameter_m: 0.0217,
    ambientPressure_Pa: 101_325,
    waterDensity_kg_m3: 998.2,
    airTemperature_C: 20,
    contraction: 1,
    velocityCoefficient: 1,
    headOfWater: true,
    gravity_m_s2: 9.80665,
    stopperHeld: "inside",
  } as const;

  test("are refused where the equations have no answer, with all that is wrong", () => {
    const result = predict({ ...setup, water_kg: 1.6, openingDiameter_m: 0.09, setPressure_Pa: 0 });
    expect(result.ok ? [] : result.issues.map(({ code }) => code)).toEqual([
      "water-exceeds-bottle",
      "opening-exceeds-bottle",
      "pressure-not-positive",
    ]);
    expect(predict(setup).ok).toBe(true);
  });

  test("own uncertainties take the place of the usual ones", () => {
    const usual = predictionBudget(setup);
    const sure = predictionBudget(setup, { polytropicExponent: 0, velocityCoefficient: 0 });
    expect(sure.u_impulse_Ns).toBeLessThan(usual.u_impulse_Ns);
    expect(sure.rows.find((row) => row.quantity === "polytropicExponent")!.contribution_Ns).toBe(0);
  });
});
