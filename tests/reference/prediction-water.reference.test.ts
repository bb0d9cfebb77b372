import betainc from "@stdlib/math-base-special-betainc";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { waterDensity_kg_m3 } from "../../core/propulsion/water-density.ts";
import { integrate, quadrature } from "./independent-numerics.ts";
import { nominal, predictionOf, relative, setupOf } from "./prediction-cases.ts";

/**
 * PHYSICS.md sections 1 and 11, read there: its own implementation agreed with itself to 5e-11.
 * The tables are rounded in the sixth decimal, the tolerance is half of that.
 */
describe("nominal table", () => {
  test.each([
    [1.4, 12.033241, 0.189359, 0.115654, 108.300018],
    [1.2, 12.740232, 0.27092, 0.107486, 119.579301],
    [1.0, 13.451556, 0.36409, 0.100647, 131.836421],
  ])("n = %d", (polytropicExponent, waterImpulse, airImpulse, waterTime, jetEnergy) => {
    const { water, air } = predictionOf({ ...nominal, polytropicExponent });
    expect(Math.abs(water.impulse_Ns - waterImpulse)).toBeLessThan(6e-7);
    expect(Math.abs(air.impulse_Ns - airImpulse)).toBeLessThan(6e-7);
    expect(Math.abs(water.duration_s - waterTime)).toBeLessThan(6e-7);
    expect(relative(water.jetEnergy_J, jetEnergy)).toBeLessThan(1e-7);
    expect(air.choked).toBe(polytropicExponent === 1);
  });

  test("start of thrust, with and without head and area ratio", () => {
    const n = { ...nominal, polytropicExponent: 1.4 };
    expect(predictionOf(n).water.thrustStart_N).toBeCloseTo(223.5631, 4);
    const { bottleDiameter_m: _, ...plain } = n;
    expect(predictionOf(plain).water.thrustStart_N).toBeCloseTo(221.9017, 4);
    expect(predictionOf(plain).water.impulse_Ns).toBeCloseTo(11.989791, 6);
  });

  test("the neck adds its length to the head", () => {
    const { water } = predictionOf({ ...nominal, polytropicExponent: 1.4, neckLength_m: 0.03 });
    expect(water.impulse_Ns).toBeCloseTo(12.0458, 4);
  });

  test("specific impulse of the water", () => {
    const { water } = predictionOf({ ...nominal, polytropicExponent: 1.4 });
    expect(water.impulse_Ns / (0.7 * 9.80665)).toBeCloseTo(1.75293, 5);
  });

  test("1.2 L of water at 3 bar and n = 1.4 is not all driven out, and no air follows", () => {
    const { water, air } = predictionOf({ ...nominal, water_kg: 1.2, polytropicExponent: 1.4 });
    expect(water.left_kg).toBeGreaterThan(0.1);
    expect(water.expelled_kg + water.left_kg).toBeCloseTo(1.2, 12);
    expect(water.thrustEnd_N).toBe(0);
    expect(air).toEqual({ impulse_Ns: 0, duration_s: 0, choked: false });
  });
});

/**
 * Time-free results without head and area ratio, PHYSICS.md section 1 (formulas read), with the
 * regularised incomplete beta of @stdlib times the complete one.
 */
describe("closed forms", () => {
  const beta = (p: number, q: number) => betainc(1, p, q, false);
  const incomplete = (x: number, p: number, q: number) => betainc(x, p, q) * beta(p, q);

  test("impulse and duration are incomplete beta functions for every exponent above 1", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.01, max: 1.4, noNaN: true }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        fc.double({ min: 2e4, max: 1.5e6, noNaN: true }),
        fc.double({ min: 0.8, max: 1, noNaN: true }),
        (n, fill, gauge_Pa, Cv) => {
          const setup = setupOf({
            water_kg: fill * 0.0015 * 998.2,
            setPressure_Pa: gauge_Pa,
            bottleVolume_m3: 0.0015,
            openingDiameter_m: 0.0217,
            polytropicExponent: n,
            velocityCoefficient: Cv,
          });
          const { water } = predictionOf({ ...withoutDerived(setup) });
          const { ambientPressure_Pa: pa, waterDensity_kg_m3: rho } = setup;
          const p0 = pa + gauge_Pa;
          const V0 = 0.0015 - setup.water_kg / rho;
          const x0 = pa / p0;
          const x1 = Math.min(1, x0 * (0.0015 / V0) ** n);
          const scale = (V0 * (p0 / pa) ** (1 / n)) / n;
          const Aj = (Math.PI / 4) * 0.0217 ** 2;
          const impulse =
            Cv *
            Math.sqrt(2 * rho * pa) *
            scale *
            (incomplete(x1, 1 / n - 0.5, 1.5) - incomplete(x0, 1 / n - 0.5, 1.5));
          const duration =
            (Math.sqrt(rho / (2 * pa)) / (Aj * Cv)) *
            scale *
            (incomplete(x1, 1 / n + 0.5, 0.5) - incomplete(x0, 1 / n + 0.5, 0.5));
          // The difference of two betas loses up to four digits where little is swept.
          expect(relative(water.impulse_Ns, impulse)).toBeLessThan(1e-10);
          expect(relative(water.duration_s, duration)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test("isothermal impulse is an arcsine", () => {
    const { water } = predictionOf({ ...plainNominal, polytropicExponent: 1 });
    const rho = waterDensity_kg_m3(20);
    const V0 = 0.0015 - 0.7 / rho;
    const [a, b] = [(101_325 + 3e5) * V0, 101_325];
    const primitive = (V: number) =>
      Math.sqrt(V * (a - b * V)) + (a / Math.sqrt(b)) * Math.asin(Math.sqrt((b * V) / a));
    expect(relative(water.impulse_Ns, Math.sqrt(2 * rho) * (primitive(0.0015) - primitive(V0)))).toBeLessThan(
      1e-12,
    );
  });

  test("work on the water, and the jet's energy as Cv² of it", () => {
    for (const n of [1, 1.2, 1.4]) {
      const prediction = predictionOf({ ...plainNominal, polytropicExponent: n, velocityCoefficient: 0.95 });
      const V0 = 0.0015 - 0.7 / waterDensity_kg_m3(20);
      const p0 = 401_325;
      const pushed =
        n === 1 ? p0 * V0 * Math.log(0.0015 / V0) : ((p0 * V0) / (n - 1)) * (1 - (V0 / 0.0015) ** (n - 1));
      const work = pushed - 101_325 * (0.0015 - V0);
      expect(relative(prediction.energy.workOnWater_J, work)).toBeLessThan(1e-12);
      expect(relative(prediction.water.jetEnergy_J, 0.95 ** 2 * work)).toBeLessThan(1e-12);
    }
  });
});

/** Two routes that share no code and no variable with the prediction: quadrature over volume, and time steps. */
describe("independent routes", () => {
  test("double-exponential quadrature over volume and Runge-Kutta in time give the same, other bottles and sites", () => {
    fc.assert(
      fc.property(anyShot, (json) => {
        const setup = setupOf(json);
        const { water } = predictionOf(json);
        const { speed, end_m3, V0, Aj, rho } = equations(setup);
        const impulse = quadrature((V) => rho * speed(V), V0, end_m3);
        const duration = quadrature((V) => 1 / (Aj * speed(V)), V0, end_m3);
        const energy = quadrature((V) => (rho / 2) * speed(V) ** 2, V0, end_m3);
        expect(relative(water.impulse_Ns, impulse)).toBeLessThan(1e-9);
        // Next to the end of the drive the quadrature itself has 1e-8 of the speed left, as a root.
        expect(relative(water.duration_s, duration)).toBeLessThan(1e-7);
        expect(relative(water.jetEnergy_J, energy)).toBeLessThan(1e-9);
        expect(relative(water.expelled_kg, rho * (end_m3 - V0))).toBeLessThan(1e-9);
        expect(relative(water.thrustStart_N, rho * Aj * speed(V0) ** 2)).toBeLessThan(1e-9);
        if (water.left_kg === 0)
          expect(relative(water.thrustEnd_N, rho * Aj * speed(end_m3) ** 2)).toBeLessThan(1e-6);

        // Until 99 % is out: at the very end of a drive that dies first, time steps alone do not see the root.
        const stop_m3 = V0 + 0.99 * (end_m3 - V0);
        const inTime = integrate({
          start: [V0, 0, 0],
          slope: (_t, [V]) => {
            const v = speed(Math.min(V!, end_m3));
            return [Aj * v, rho * Aj * v * v, (rho / 2) * Aj * v ** 3];
          },
          goesOn: (_t, [V]) => stop_m3 - V!,
          tolerance: 1e-11,
          scale: [V0, impulse, energy],
        });
        expect(
          relative(
            inTime.y[1]!,
            quadrature((V) => rho * speed(V), V0, stop_m3),
          ),
        ).toBeLessThan(1e-8);
        const restOfTime = quadrature((V) => 1 / (Aj * speed(V)), stop_m3, end_m3);
        expect(relative(water.duration_s, inTime.t + restOfTime)).toBeLessThan(1e-7);
      }),
      { numRuns: 30 },
    );
  });
});

describe("limits in closed form", () => {
  test("a huge bottle keeps its pressure: m √(2 Δp/ρ), m/(ρ A v), and 2 A Δp throughout", () => {
    const json = { ...plainNominal, water_kg: 0.001, bottleVolume_m3: 0.2, polytropicExponent: 1.4 };
    const { water } = predictionOf(json);
    const v = Math.sqrt((2 * 3e5) / waterDensity_kg_m3(20));
    const A = (Math.PI / 4) * 0.0217 ** 2;
    // The pressure falls by n Δm/(ρ V) = 7e-6 over the phase.
    expect(relative(water.impulse_Ns, 0.001 * v)).toBeLessThan(1e-5);
    expect(relative(water.duration_s, 0.001 / (waterDensity_kg_m3(20) * A * v))).toBeLessThan(1e-5);
    expect(relative(water.thrustEnd_N, 2 * A * 3e5)).toBeLessThan(2e-5);
  });

  test("in thin air the impulse is √(2 ρ p0) V0^(n/2) (V_b^(1-n/2) - V0^(1-n/2))/(1 - n/2)", () => {
    const n = 1.25;
    const thin = {
      ...plainNominal,
      ambientPressure_Pa: 2000,
      setPressure_Pa: 4.998e6,
      polytropicExponent: n,
    };
    const rho = waterDensity_kg_m3(20);
    const V0 = 0.0015 - 0.7 / rho;
    const power = 1 - n / 2;
    const vacuum = (Math.sqrt(2 * rho * 5e6) * V0 ** (n / 2) * (0.0015 ** power - V0 ** power)) / power;
    // What is left of the ambient takes half its share of the pressure off the speed: 2000 Pa of 2 to 5 MPa.
    expect(relative(predictionOf(thin).water.impulse_Ns, vacuum)).toBeLessThan(5e-4);
    expect(predictionOf(thin).water.impulse_Ns).toBeLessThan(vacuum);
  });

  test("without water there is no water phase, and nothing is NaN", () => {
    const { water, air, specificImpulse_s, u } = predictionOf({ ...nominal, water_kg: 0 });
    expect(water).toEqual({
      impulse_Ns: 0,
      duration_s: 0,
      expelled_kg: 0,
      left_kg: 0,
      thrustStart_N: 0,
      thrustEnd_N: 0,
      jetEnergy_J: 0,
    });
    expect(air.choked).toBe(true);
    expect(specificImpulse_s).toBeNull();
    expect(u.impulse_Ns).toBeGreaterThan(0);
  });
});

/** Tanaka et al., Metrologia 38 (2001) 301, as tabulated in PHYSICS.md section 12 (read there). */
test.each([
  [4, 999.9749],
  [10, 999.7027],
  [15, 999.1026],
  [20, 998.2067],
  [25, 997.047],
  [30, 995.6488],
  [40, 992.2152],
])("water at %d °C weighs %d kg/m3", (temperature, density) => {
  expect(waterDensity_kg_m3(temperature)).toBeCloseTo(density, 4);
});

const { bottleDiameter_m: _, ...plainNominal } = nominal;

/** The setup as JSON again, with the density that it used. */
function withoutDerived(setup: ReturnType<typeof setupOf>): Record<string, unknown> {
  return JSON.parse(JSON.stringify(setup)) as Record<string, unknown>;
}

const anyShot = fc.record(
  {
    water_kg: fc.double({ min: 0.02, max: 0.47, noNaN: true }),
    setPressure_Pa: fc.double({ min: 2e4, max: 1e6, noNaN: true }),
    bottleVolume_m3: fc.double({ min: 5e-4, max: 5e-3, noNaN: true }),
    openingDiameter_m: fc.double({ min: 0.004, max: 0.03, noNaN: true }),
    bottleDiameter_m: fc.double({ min: 0.06, max: 0.12, noNaN: true }),
    neckLength_m: fc.double({ min: 0, max: 0.05, noNaN: true }),
    ambientPressure_Pa: fc.double({ min: 5e4, max: 1.05e5, noNaN: true }),
    waterTemperature_C: fc.double({ min: 0, max: 40, noNaN: true }),
    airTemperature_C: fc.double({ min: -10, max: 40, noNaN: true }),
    polytropicExponent: fc.oneof(fc.constantFrom(1, 1.4), fc.double({ min: 1, max: 1.4, noNaN: true })),
    contraction: fc.double({ min: 0.6, max: 1, noNaN: true }),
    velocityCoefficient: fc.double({ min: 0.9, max: 1, noNaN: true }),
    gravity_m_s2: fc.double({ min: 9.77, max: 9.84, noNaN: true }),
    headOfWater: fc.boolean(),
  },
  {
    requiredKeys: [
      "water_kg",
      "setPressure_Pa",
      "bottleVolume_m3",
      "openingDiameter_m",
      "polytropicExponent",
    ],
  },
);

/** The equations of PHYSICS.md section 1, written once more from the text. */
function equations(setup: ReturnType<typeof setupOf>) {
  const {
    waterDensity_kg_m3: rho,
    bottleVolume_m3: Vb,
    ambientPressure_Pa: pa,
    polytropicExponent: n = 1.4,
  } = setup;
  const V0 = Vb - setup.water_kg / rho;
  const Aj = (setup.contraction * Math.PI * setup.openingDiameter_m ** 2) / 4;
  const As = setup.bottleDiameter_m === undefined ? Infinity : (Math.PI * setup.bottleDiameter_m ** 2) / 4;
  const drive = (V: number) => {
    const H = setup.headOfWater ? (Vb - V) / As + (setup.neckLength_m ?? 0) : 0;
    return (pa + setup.setPressure_Pa) * (V0 / V) ** n - pa + rho * setup.gravity_m_s2 * H;
  };
  let end_m3 = Vb;
  if (drive(Vb) < 0) {
    let [low, high] = [V0, Vb];
    for (let i = 0; i < 200; i++) {
      const middle = (low + high) / 2;
      if (drive(middle) > 0) low = middle;
      else high = middle;
    }
    end_m3 = low;
  }
  const speed = (V: number) =>
    setup.velocityCoefficient * Math.sqrt(Math.max(0, (2 * drive(V)) / (rho * (1 - (Aj / As) ** 2))));
  return { speed, end_m3, V0, Aj, rho };
}
