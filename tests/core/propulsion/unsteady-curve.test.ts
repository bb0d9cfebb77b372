import fc from "fast-check";
import { expect, test } from "vitest";
import { parseSetup } from "../../../core/exchange/setup.ts";
import { discArea_m2, shotOf } from "../../../core/propulsion/shot.ts";
import { thrustCurve } from "../../../core/propulsion/thrust-curve.ts";
import { columnOf, columnState } from "../../../core/propulsion/unsteady-start.ts";

const unsteadyOf = (json: Record<string, unknown>) => {
  const parsed = parseSetup(json, "predict");
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  const curve = thrustCurve(parsed.value.setup, { unsteady: true });
  if (!curve.ok) throw new Error(JSON.stringify(curve.issues));
  return { curve: curve.value, setup: parsed.value.setup };
};

test("every point of the unsteady curve is a finite number, with a neck and without", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 2e-4, max: 0.05, noNaN: true }),
      fc.double({ min: 0.02, max: 0.95, noNaN: true }),
      fc.double({ min: 2e4, max: 1e6, noNaN: true }),
      fc.double({ min: 0.1, max: 0.9, noNaN: true }),
      fc.constantFrom(undefined, 0, 0.02),
      (bottleVolume_m3, fill, setPressure_Pa, ratio, neckLength_m) => {
        const bottleDiameter_m = Math.cbrt(bottleVolume_m3 / 2);
        const { curve } = unsteadyOf({
          water_kg: 990 * fill * bottleVolume_m3,
          setPressure_Pa,
          bottleVolume_m3,
          bottleDiameter_m,
          openingDiameter_m: ratio * bottleDiameter_m,
          ...(neckLength_m !== undefined && { neckLength_m }),
          polytropicExponent: 1.25,
        });
        for (const column of [curve.t_s, curve.thrust_N, curve.water_kg, curve.impulseUntil_Ns]) {
          expect(column.every(Number.isFinite)).toBe(true);
        }
      },
    ),
    { numRuns: 200 },
  );
});

const nominal = {
  water_kg: 0.7,
  setPressure_Pa: 3e5,
  bottleVolume_m3: 0.0015,
  openingDiameter_m: 0.0217,
  bottleDiameter_m: 0.088,
  polytropicExponent: 1.4,
};

test("without a neck the last of the water leaves with the quasi-steady reading ρ Q (v_j - v_s)", () => {
  const { curve } = unsteadyOf(nominal);
  const end = curve.water_kg.indexOf(0);
  // PHYSICS.md section 1: (1 - σ) of the jet's flux; 48.081 N by a quadrature written apart (SciPy, recomputed).
  const ratio = discArea_m2(0.0217) / discArea_m2(0.088);
  expect(curve.thrust_N[end]! / (48.08109 * (1 - ratio))).toBeCloseTo(1, 2);
});

test("with a neck the impulse is the jet's and ρ Q L_n, the momentum of the column kept there to the end", () => {
  const { curve, setup } = unsteadyOf({ ...nominal, neckLength_m: 0.03 });
  const shot = shotOf(setup);
  const column = columnOf({ ...setup, bottleDiameter_m: 0.088 }, shot);
  const flowAt = (part: number) =>
    columnState(column, shot.airVolume_m3 + part * shot.waterVolume_m3).flow_m3_s;
  // ∫ ρ Q v_j dt = ∫ ρ v_j dV, by the midpoint rule.
  const steps = 20_000;
  let jet_Ns = 0;
  for (let i = 0; i < steps; i++)
    jet_Ns += (shot.water_kg * flowAt((i + 0.5) / steps)) / shot.jetArea_m2 / steps;
  const kept_Ns = shot.density_kg_m3 * flowAt(1) * 0.03;
  expect(kept_Ns).toBeGreaterThan(0.1);
  expect(curve.waterImpulse_Ns - jet_Ns).toBeCloseTo(kept_Ns, 3);
});
