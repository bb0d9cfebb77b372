import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meanThrustBetween } from "../../../core/compare/curve-samples.ts";
import { fitExponent } from "../../../core/compare/exponent-fit.ts";
import { parseSetup } from "../../../core/exchange/setup.ts";
import type { ShotSetup } from "../../../core/exchange/setup-shot.ts";
import { thrustCurve } from "../../../core/propulsion/thrust-curve.ts";

const good = <T>(result: { ok: true; value: T } | { ok: false; issues: unknown }): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
const codes = (result: { ok: true } | { ok: false; issues: readonly { code: string }[] }) =>
  result.ok ? [] : result.issues.map(({ code }) => code);

const setup: ShotSetup = good(
  parseSetup(
    {
      water_kg: 0.7,
      setPressure_Pa: 3e5,
      bottleVolume_m3: 0.0015,
      openingDiameter_m: 0.0217,
      bottleDiameter_m: 0.088,
      neckLength_m: 0.03,
      polytropicExponent: 1.25,
    },
    "predict",
  ),
).setup;

describe("exponent fit", () => {
  const rate_Hz = 2000;
  const recordFor = (truth: ShotSetup, unsteady: boolean) => {
    const curve = good(thrustCurve(truth, { unsteady }));
    const edges = Float64Array.from({ length: 501 }, (_, i) => (i - 0.5) / rate_Hz - 0.02);
    const thrust_N = meanThrustBetween(curve, edges);
    return { thrust_N, rate_Hz, first_s: -0.02, waterEnd_s: curve.waterEnd_s };
  };
  const options = { fitVelocityCoefficient: false, sensitivityRelU: 0.01 };

  test("finds the truth again, its effective jet area and the late release with it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1.4, noNaN: true }),
        fc.double({ min: 0.7, max: 1, noNaN: true }),
        fc.double({ min: -0.002, max: 0.002, noNaN: true }),
        (polytropicExponent, contraction, late_s) => {
          const record = recordFor({ ...setup, polytropicExponent, contraction }, true);
          const fit = good(fitExponent(setup, { ...record, first_s: record.first_s + late_s }, options));
          // The record's own samples lose where within half a millisecond the release fell.
          expect(Math.abs(fit.exponent - polytropicExponent)).toBeLessThan(1e-3);
          expect(Math.abs(fit.contraction - contraction)).toBeLessThan(5e-3);
          expect(Math.abs(fit.delay_s - late_s)).toBeLessThan(5e-4);
        },
      ),
      { numRuns: 8 },
    );
  });

  test("stays inside its own uncertainty with noise and a ringing stand", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 100, max: 300, noNaN: true }),
        (seed, ring_Hz) => {
          const record = recordFor(setup, true);
          let state = seed;
          const noisy = record.thrust_N.map((thrust_N, i) => {
            state = (state * 48_271) % 2_147_483_647;
            const t = record.first_s + i / rate_Hz;
            const ringing = t > 0 ? 40 * Math.exp(-34 * t) * Math.sin(2 * Math.PI * ring_Hz * t) : 0;
            return thrust_N + ringing + 2 * (state / 2_147_483_647 - 0.5);
          });
          const fit = good(fitExponent(setup, { ...record, thrust_N: noisy }, options));
          expect(Math.abs(fit.exponent - 1.25)).toBeLessThan(2 * fit.u);
        },
      ),
      { numRuns: 6 },
    );
  });

  // Where no neck is known the spike is the higher and the shorter, and the valley of equal fits is curved.
  test("finds the truth again without a neck, whatever the bottle", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1.15, max: 1.38, noNaN: true }),
        fc.double({ min: 0.001, max: 0.002, noNaN: true }),
        fc.double({ min: 0.3, max: 0.5, noNaN: true }),
        fc.double({ min: 2e5, max: 5e5, noNaN: true }),
        (polytropicExponent, bottleVolume_m3, fill, setPressure_Pa) => {
          const { neckLength_m: _, ...noNeck } = setup;
          const bottle = {
            ...noNeck,
            bottleVolume_m3,
            setPressure_Pa,
            water_kg: 1000 * fill * bottleVolume_m3,
          };
          const fit = good(fitExponent(bottle, recordFor({ ...bottle, polytropicExponent }, true), options));
          expect(Math.abs(fit.exponent - polytropicExponent)).toBeLessThan(3e-3);
        },
      ),
      { numRuns: 12 },
    );
  });

  test("without the bottle's section uses the quasi-steady model and says so", () => {
    const { bottleDiameter_m: _, ...plain } = { ...setup, headOfWater: false };
    const fit = good(fitExponent(plain, recordFor(plain, false), options));
    expect(fit.model).toBe("quasi-steady");
    expect(Math.abs(fit.exponent - 1.25)).toBeLessThan(1e-3);
  });

  test("refuses a record that is too short, has holes, or belongs to another shot", () => {
    const record = recordFor(setup, true);
    expect(codes(fitExponent(setup, { ...record, waterEnd_s: 0.02 }, options))).toEqual([
      "fit-window-too-short",
    ]);
    const holes = { ...record, thrust_N: record.thrust_N.map((x, i) => (i === 100 ? Number.NaN : x)) };
    expect(codes(fitExponent(setup, holes, options))).toEqual(["value-not-finite"]);
    const other = fitExponent({ ...setup, setPressure_Pa: 6e5 }, record, options);
    expect(codes(other)[0]).toMatch(/fit-not-converged|exponent-not-believable/);
  });
});
