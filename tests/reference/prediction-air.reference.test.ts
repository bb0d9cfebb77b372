import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { airPhase, criticalPressureRatio, dischargeOf } from "../../core/propulsion/air-phase.ts";
import { airGasConstant_J_kgK, icePoint_K, standardGravity_m_s2 } from "../../core/propulsion/constants.ts";
import { shotOf } from "../../core/propulsion/shot.ts";
import { standardPressure_Pa } from "../../core/propulsion/standard-atmosphere.ts";
import { integrate, quadrature } from "./independent-numerics.ts";
import { nominal, relative, setupOf } from "./prediction-cases.ts";

const γ = 1.4;
const R = 287.05287;

/**
 * Isentropic flow, NACA Report 1135 (1953), table for γ = 1.4; rows as given in PHYSICS.md section 12
 * (read there, not in the report). A converging opening has the jet's Mach number M where
 * p_a/p is the table's p/p0, and the momentum flux of the jet is then γ p_a M² A.
 */
describe("isentropic flow", () => {
  test("is sonic at p/p0 = .5283", () => {
    expect(criticalPressureRatio).toBeCloseTo(0.5283, 4);
  });

  test.each([
    [0.9, 0.5913],
    [0.95, 0.5595],
    [0.99, 0.5345],
  ])("M = %d at p/p0 = %d, seen in the thrust of the jet", (mach, ratio) => {
    const shot = shotOf(setupOf(nominal));
    const { choked, rest } = dischargeOf(shot, shot.ambient_Pa / ratio, 250);
    expect(choked).toBeUndefined();
    const thrust_N = rest.thrustScale_N * rest.startRoot ** 2;
    // Four digits in the table: half a unit of the last is 1e-4 of p/p0, about twice that of M².
    expect(relative(thrust_N, γ * shot.ambient_Pa * mach ** 2 * shot.jetArea_m2)).toBeLessThan(3e-4);
  });

  test("past M = 1 the opening stays sonic: M = 1.01 at p/p0 = .5221 is choked", () => {
    const shot = shotOf(setupOf(nominal));
    const { choked } = dischargeOf(shot, shot.ambient_Pa / 0.5221, 250);
    expect(choked).toBeDefined();
    // A/A* at M = 1 is 1: momentum and pressure add to (1 + γ) p* A - p_a A.
    const start_N = choked!.pressureArea_m2 * choked!.startPressure_Pa - choked!.ambientForce_N;
    const expected =
      ((1 + γ) * criticalPressureRatio * choked!.startPressure_Pa - shot.ambient_Pa) * shot.jetArea_m2;
    expect(relative(start_N, expected)).toBeLessThan(1e-12);
  });
});

/** PHYSICS.md section 2, written once more: flow and thrust at any state of the vessel. */
function flow(shot: ReturnType<typeof shotOf>, p: number, T: number) {
  const { ambient_Pa: pa, jetArea_m2, velocityCoefficient: Cv } = shot;
  const critical = (2 / (γ + 1)) ** (γ / (γ - 1));
  if (pa / p <= critical) {
    const rate = Cv * jetArea_m2 * p * Math.sqrt(γ / (R * T)) * (2 / (γ + 1)) ** ((γ + 1) / (2 * (γ - 1)));
    const speed = Math.sqrt((2 * γ * R * T) / (γ + 1));
    return { rate, thrust: rate * Cv * speed + jetArea_m2 * (critical * p - pa) };
  }
  const speed = Math.sqrt(((2 * γ) / (γ - 1)) * R * T * Math.max(0, 1 - (pa / p) ** ((γ - 1) / γ)));
  const rate = Cv * jetArea_m2 * (p / (R * T)) * (pa / p) ** (1 / γ) * speed;
  return { rate, thrust: rate * Cv * speed };
}

const anyVessel = fc.record({
  start_Pa: fc.double({ min: 1.02e5, max: 2e6, noNaN: true }),
  start_K: fc.double({ min: 180, max: 300, noNaN: true }),
  contraction: fc.double({ min: 0.6, max: 1, noNaN: true }),
  velocityCoefficient: fc.double({ min: 0.9, max: 1, noNaN: true }),
  bottleVolume_m3: fc.double({ min: 8e-4, max: 5e-3, noNaN: true }),
});

describe("independent routes", () => {
  test("quadrature over the mass that leaves gives the same impulse and duration, choked and not", () => {
    fc.assert(
      fc.property(anyVessel, ({ start_Pa, start_K, ...changed }) => {
        const shot = shotOf(setupOf({ ...nominal, ...changed }));
        const { impulse_Ns, duration_s, choked } = airPhase(shot, start_Pa, start_K);
        expect(choked).toBe(101_325 / start_Pa <= 0.528281787717174);
        const m1 = (start_Pa * shot.bottleVolume_m3) / (R * start_K);
        const at = (m: number) => flow(shot, start_Pa * (m / m1) ** γ, start_K * (m / m1) ** (γ - 1));
        const end = m1 * (shot.ambient_Pa / start_Pa) ** (1 / γ);
        const sonic = Math.min(m1, end * 0.528281787717174 ** (-1 / γ));
        const over = (f: (m: number) => number) => quadrature(f, end, sonic) + quadrature(f, sonic, m1);
        expect(
          relative(
            impulse_Ns,
            over((m) => at(m).thrust / at(m).rate),
          ),
        ).toBeLessThan(1e-8);
        // The last of the flow is a root in the mass, which the quadrature sees through rounded pressures.
        expect(
          relative(
            duration_s,
            over((m) => 1 / at(m).rate),
          ),
        ).toBeLessThan(1e-6);
      }),
      { numRuns: 50 },
    );
  });

  test("time steps in mass and temperature give the same down to a hundredth of the overpressure", () => {
    const shot = shotOf(setupOf(nominal));
    for (const start_Pa of [1.66e5, 2.1e5, 4e5]) {
      const start_K = 240;
      const m1 = (start_Pa * shot.bottleVolume_m3) / (R * start_K);
      const pressure = (m: number, T: number) => (m * R * T) / shot.bottleVolume_m3;
      const stop_Pa = 101_325 + 0.01 * (start_Pa - 101_325);
      const { t, y } = integrate({
        start: [m1, start_K, 0],
        slope: (_t, [m, T]) => {
          const { rate, thrust } = flow(shot, pressure(m!, T!), T!);
          return [-rate, -(γ - 1) * (T! / m!) * rate, thrust];
        },
        goesOn: (_t, [m, T]) => pressure(m!, T!) - stop_Pa,
        tolerance: 1e-11,
        scale: [m1, start_K, 1],
      });
      const all = airPhase(shot, start_Pa, start_K);
      const rest = airPhase(shot, stop_Pa, start_K * (stop_Pa / start_Pa) ** ((γ - 1) / γ));
      expect(relative(all.impulse_Ns, y[2]! + rest.impulse_Ns)).toBeLessThan(1e-8);
      expect(relative(all.duration_s, t + rest.duration_s)).toBeLessThan(1e-8);
    }
  });

  test("the choked part is the closed form of PHYSICS.md section 2", () => {
    const shot = shotOf(setupOf({ ...nominal, velocityCoefficient: 0.97, contraction: 0.8 }));
    const [p1, T1] = [4e5, 250];
    const m1 = (p1 * shot.bottleVolume_m3) / (R * T1);
    const p2 = 101_325 / criticalPressureRatio;
    const m2 = m1 * (p2 / p1) ** (1 / γ);
    const { rate } = flow(shot, p1, T1);
    const dt = (((2 / (γ - 1)) * m1) / rate) * ((p2 / p1) ** (-(γ - 1) / (2 * γ)) - 1);
    const K = (2 / (γ + 1)) * Math.sqrt((2 * γ * R * T1) / (γ + 1)) * m1 * (1 - (m2 / m1) ** ((γ + 1) / 2));
    const { choked } = dischargeOf(shot, p1, T1);
    expect(relative(choked!.duration_s, dt)).toBeLessThan(1e-12);
    expect(
      relative(choked!.impulse_Ns, 0.97 * K + K / (γ * 0.97) - 101_325 * shot.jetArea_m2 * dt),
    ).toBeLessThan(1e-12);
  });
});

describe("edges", () => {
  test("air no denser than outside gives nothing", () => {
    const shot = shotOf(setupOf(nominal));
    expect(airPhase(shot, 101_325, 293)).toEqual({ impulse_Ns: 0, duration_s: 0, choked: false });
    expect(airPhase(shot, 90_000, 293)).toEqual({ impulse_Ns: 0, duration_s: 0, choked: false });
  });

  test("impulse and duration are continuous where choking begins", () => {
    const shot = shotOf(setupOf(nominal));
    const critical_Pa = 101_325 / criticalPressureRatio;
    const below = airPhase(shot, critical_Pa * (1 - 1e-9), 250);
    const above = airPhase(shot, critical_Pa * (1 + 1e-9), 250);
    expect([below.choked, above.choked]).toEqual([false, true]);
    expect(relative(above.impulse_Ns, below.impulse_Ns)).toBeLessThan(1e-8);
    expect(relative(above.duration_s, below.duration_s)).toBeLessThan(1e-8);
  });
});

/** ISO 2533:1975 and US Standard Atmosphere 1976, values as given in PHYSICS.md section 12 (read there). */
describe("standard atmosphere", () => {
  test("the constants", () => {
    expect([airGasConstant_J_kgK, standardGravity_m_s2, icePoint_K]).toEqual([287.05287, 9.80665, 273.15]);
  });

  test("101 325 Pa at sea level, 89 874.6 Pa at 1000 m geopotential", () => {
    expect(standardPressure_Pa(0)).toBe(101_325);
    expect(standardPressure_Pa(1000)).toBeCloseTo(89_874.6, 1);
  });

  /** Remembered from the tables of the US Standard Atmosphere 1976: 54 019.9 Pa at 5000 m, 22 632 Pa at 11 000 m. */
  test("and higher up", () => {
    expect(standardPressure_Pa(5000)).toBeCloseTo(54_019.9, 0);
    expect(standardPressure_Pa(11_000)).toBeCloseTo(22_632, 0);
  });
});
