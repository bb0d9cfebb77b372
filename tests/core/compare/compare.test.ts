import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meanThrustBetween, thrustAt } from "../../../core/compare/curve-samples.ts";
import { energyLedger } from "../../../core/compare/energy-ledger.ts";
import { gatherEvidence, type Observation } from "../../../core/compare/evidence.ts";
import { predictedBand } from "../../../core/compare/predicted-band.ts";
import { parseSetup } from "../../../core/exchange/setup.ts";
import type { ShotSetup } from "../../../core/exchange/setup-shot.ts";
import { predict } from "../../../core/propulsion/prediction.ts";
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
const evenly = (from: number, to: number, count: number) =>
  Float64Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

describe("samples of a predicted curve", () => {
  const curve = good(thrustCurve(setup, { unsteady: true }));

  test("meet the curve at its own points and are nothing outside it", () => {
    const at = thrustAt(
      curve,
      curve.t_s.filter((t) => t !== curve.waterEnd_s),
    );
    const own = [...curve.thrust_N].filter((_, i) => curve.t_s[i] !== curve.waterEnd_s);
    for (const [i, value] of own.entries()) expect(Math.abs(at[i]! - value)).toBeLessThan(1e-5);
    expect([...thrustAt(curve, [-0.01, curve.end_s + 0.01])]).toEqual([0, 0]);
  });

  test("as means keep the impulse, however coarse and wherever they start", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 400 }),
        fc.double({ min: 0, max: 0.02, noNaN: true }),
        (count, before) => {
          const edges = evenly(-before - 1e-3, curve.end_s + 0.01, count + 1);
          const width = edges[1]! - edges[0]!;
          const sum = meanThrustBetween(curve, edges).reduce((total, mean) => total + mean * width, 0);
          expect(Math.abs(sum / curve.impulse_Ns - 1)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  test("as means over short intervals are the thrust there", () => {
    const edges = evenly(0.02, 0.1, 4001);
    const middles = edges.slice(0, -1).map((edge, i) => (edge + edges[i + 1]!) / 2);
    const [means, points] = [meanThrustBetween(curve, edges), thrustAt(curve, middles)];
    for (let i = 0; i < means.length; i++) expect(Math.abs(means[i]! / points[i]! - 1)).toBeLessThan(1e-4);
  });
});

describe("band", () => {
  const times = evenly(0, 0.14, 60);

  test("is about the predicted curve, wider than nothing while there is thrust and nothing after it", () => {
    const band = good(predictedBand(setup, times, { unsteady: false }));
    expect(band.thrust_N).toEqual(thrustAt(good(thrustCurve(setup, { unsteady: false })), times));
    expect(band.u_N.slice(0, 45).every((u) => u > 1)).toBe(true);
    expect(band.u_N.at(-1)).toBe(0);
  });

  test("at the start is the thrust's own uncertainty: 2 Cv for the speed, all of pressure and area", () => {
    const band = good(predictedBand(setup, Float64Array.of(0), { unsteady: false }));
    const relative = Math.hypot(0.02, 3447.4 / 3e5, 2 * (1e-4 / 0.0217), 0.02);
    expect(Math.abs(band.u_N[0]! / band.thrust_N[0]! / relative - 1)).toBeLessThan(0.02);
  });

  test("vanishes where nothing is uncertain", () => {
    const none = Object.fromEntries(
      [
        "polytropicExponent",
        "velocityCoefficient",
        "setPressure_Pa",
        "bottleVolume_m3",
        "water_kg",
        "ambientPressure_Pa",
        "contraction",
        "openingDiameter_m",
      ].map((key) => [key, 0]),
    );
    const band = good(predictedBand(setup, times, { unsteady: false, uncertainties: none }));
    expect([...band.u_N].every((u) => u === 0)).toBe(true);
  });

  test("of the start spike needs the bottle's section", () => {
    const { bottleDiameter_m: _, ...plain } = setup;
    expect(codes(predictedBand(plain, times, { unsteady: true }))).toEqual(["bottle-diameter-missing"]);
  });
});

describe("energy ledger", () => {
  const ledger = energyLedger(setup, { jetEnergy_J: 112, waterImpulse_Ns: 12.4, expelled_kg: 0.7 });
  const row = (stage: string) => ledger.find((one) => one.stage === stage)!;

  test("names the same energies as the prediction", () => {
    const { energy, water } = good(predict(setup));
    expect(row("available-isothermal").energy_J).toBe(energy.isothermalAvailable_J);
    expect(row("available-isentropic").energy_J).toBe(energy.isentropicAvailable_J);
    expect(row("work-on-water").energy_J).toBe(energy.workOnWater_J);
    expect(row("stored-pcc2").energy_J).toBe(energy.pcc2_J);
    expect(row("jet-predicted").energy_J).toBe(water.jetEnergy_J);
  });

  test("shares name their denominator, and each is 1 of itself", () => {
    for (const stage of ["available-isothermal", "available-isentropic", "work-on-water"] as const) {
      expect(row(stage).share[stage]).toBe(1);
    }
    expect(row("jet-measured").share["work-on-water"]).toBeCloseTo(112 / row("work-on-water").energy_J, 12);
  });

  test("balances: work and head of water make the jet where nothing is lost, and σ puts the rest into the surface", () => {
    const sum = row("work-on-water").energy_J + row("work-of-head").energy_J;
    const sigma = (0.0217 / 0.088) ** 2;
    expect(row("jet-predicted").energy_J * (1 - sigma ** 2)).toBeCloseTo(sum, 9);
    // ρ g ∫ H dV: 0.7 kg, a column of 115 mm that sinks to nothing, and 30 mm of neck.
    const column = 0.7 / setup.waterDensity_kg_m3 / ((Math.PI / 4) * 0.088 ** 2);
    expect(row("work-of-head").energy_J).toBeCloseTo(0.7 * 9.80665 * (column / 2 + 0.03), 9);
  });

  test("the jet never has less than its impulse needs, nor the air less than it gave and kept", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 1.4, noNaN: true }),
        fc.double({ min: 5e4, max: 1e6, noNaN: true }),
        fc.double({ min: 1, max: 1.4, noNaN: true }),
        (water_kg, setPressure_Pa, polytropicExponent) => {
          const rows = energyLedger({
            ...setup,
            headOfWater: false,
            water_kg,
            setPressure_Pa,
            polytropicExponent,
          });
          const of = (stage: string) => rows.find((one) => one.stage === stage)!.energy_J;
          expect(of("jet-predicted")).toBeGreaterThanOrEqual(of("least-for-impulse-predicted") * (1 - 1e-12));
          if (polytropicExponent === 1.4) {
            const kept = of("work-on-water") + of("left-in-air");
            expect(Math.abs(kept / of("available-isentropic") - 1)).toBeLessThan(1e-9);
          }
        },
      ),
    );
  });

  test("without a measurement has no measured row", () => {
    expect(energyLedger(setup).some(({ stage }) => stage.endsWith("measured"))).toBe(false);
  });
});

describe("evidence", () => {
  const { impulse_Ns, water } = good(predict(setup));
  const jetArea_m2 = (Math.PI / 4) * 0.0217 ** 2;
  const options = { sensitivityRelU: 0.01, zeroU_N: 0.1 };
  const seen = (changed: Partial<ShotSetup>): Observation[] => {
    const other = good(predict({ ...setup, ...changed }));
    return [
      { quantity: "impulse_Ns", measured: other.impulse_Ns, u: 0.005 * impulse_Ns },
      { quantity: "waterDuration_s", measured: other.water.duration_s, u: 0.001 },
      { quantity: "jetArea_m2", measured: jetArea_m2 * (changed.contraction ?? 1), u: 0.01 * jetArea_m2 },
      { quantity: "jetEnergy_J", measured: other.water.jetEnergy_J, u: 0.01 * water.jetEnergy_J },
    ];
  };

  test("is silent where record and prediction agree", () => {
    const { differences, causes } = good(gatherEvidence(setup, seen({}), options));
    expect(differences.every(({ inU }) => inU < 1e-9)).toBe(true);
    expect(causes.every(({ changeInU }) => Math.abs(changeInU) < 1e-6)).toBe(true);
  });

  test("a contracted jet is recognised by its time and area, the impulse being right", () => {
    const { differences, causes } = good(gatherEvidence(setup, seen({ contraction: 0.95 }), options));
    expect(differences[0]!.quantity).toMatch(/waterDuration_s|jetArea_m2/);
    expect(causes[0]!.cause).toMatch(/contraction|openingDiameter_m/);
    expect(causes[0]!.explains).toBeGreaterThan(0.8);
  });

  test("another exponent comes first when it is the cause, with its true size", () => {
    const { causes } = good(gatherEvidence(setup, seen({ polytropicExponent: 1.35 }), options));
    const first = causes[0]!;
    expect(first.cause).toBe("polytropicExponent");
    expect(first.change).toBeGreaterThan(0.07);
    expect(first.change).toBeLessThan(0.105);
    expect(Math.abs(first.neededForImpulse! - 0.1)).toBeLessThan(0.005);
  });

  test("says what each cause would have to be for the impulse alone, and null where it has no hold on it", () => {
    const { bottleDiameter_m: _, ...plain } = { ...setup, headOfWater: false };
    const impulse = good(predict(plain)).impulse_Ns;
    const observations = [{ quantity: "impulse_Ns" as const, measured: 0.98 * impulse, u: 0.05 }];
    const { causes } = good(gatherEvidence(plain, observations, options));
    const needed = Object.fromEntries(causes.map((cause) => [cause.cause, cause.neededForImpulse]));
    expect(needed["velocityCoefficient"]).toBeCloseTo(-0.02, 3);
    expect(needed["sensitivity"]).toBeCloseTo(-0.02, 9);
    expect(causes.every(({ explains }) => explains >= 0 && explains <= 1)).toBe(true);
    expect(causes.map(({ explains }) => explains)).toEqual(
      causes.map(({ explains }) => explains).sort((a, b) => b - a),
    );
  });

  test("needs something measured, with its u", () => {
    expect(codes(gatherEvidence(setup, [], options))).toEqual(["list-empty"]);
    const bad = [{ quantity: "impulse_Ns" as const, measured: Number.NaN, u: 0 }];
    expect(codes(gatherEvidence(setup, bad, options))).toEqual(["value-not-finite", "u-not-positive"]);
  });
});
