import { describe, expect, test } from "vitest";
import { shotOf } from "../../core/propulsion/shot.ts";
import { throwOf } from "../../core/propulsion/throw.ts";
import { throwArcs } from "../../core/propulsion/throw-arcs.ts";
import { waterPhase } from "../../core/propulsion/water-phase.ts";
import { nominal, relative, setupOf } from "./prediction-cases.ts";

type Given = Record<string, unknown> & { readonly ridingMass_kg: number };
const json = { ...nominal, polytropicExponent: 1.25 };

/** The water phase of a throw as `predict` computes it; a gravity of the setup's own. */
function computed(given: Given) {
  const setup = setupOf(given);
  const shot = shotOf(setup);
  const arcs = throwArcs(setup, shot, waterPhase(shot)).filter(({ phase }) => phase === "water");
  return throwOf(arcs, {
    ridingMass_kg: given.ridingMass_kg,
    impulse_Ns: 1000,
    gravity_m_s2: setup.gravity_m_s2,
  });
}

/**
 * PHYSICS.md section 1 in time, written once more: unsteady Bernoulli for Q, T = ρ Q (v_j - v_s) + ρ H dQ/dt,
 * the ground underneath; the classical Runge-Kutta of fourth order, steps of a microsecond, shorter as
 * the column runs out. What the neck still holds at the end, ρ Q L_n, is given back there.
 */
function stepped(given: Given, step_s = 1e-6) {
  const setup = setupOf(given);
  const {
    density_kg_m3: rho,
    jetArea_m2: Aj,
    start_Pa,
    ambient_Pa,
    airVolume_m3: V0,
    exponent,
  } = shotOf(setup);
  const { bottleVolume_m3: Vb, gravity_m_s2: g } = setup;
  const As = (Math.PI / 4) * setup.bottleDiameter_m! ** 2;
  const An = (Math.PI / 4) * setup.neckDiameter_m ** 2;
  const Ln = setup.neckLength_m ?? 0;
  const loss = 1 / setup.velocityCoefficient ** 2 - (Aj / As) ** 2;
  const K = (V: number) => (Vb - V) / As ** 2 + Ln / An;
  const push = ([V, Q]: readonly [number, number, number, number]) => {
    const H = (Vb - V) / As + Ln;
    const drive = start_Pa * (V0 / V) ** exponent - ambient_Pa + (setup.headOfWater ? rho * g * H : 0);
    const dQ = (drive - (rho / 2) * (Q / Aj) ** 2 * loss) / (rho * K(V));
    const thrust = rho * Q * (Q / Aj - Q / As) + rho * H * dQ;
    return { dQ, acceleration: thrust / (given.ridingMass_kg + rho * (Vb - V)) - g };
  };
  const slope = (y: readonly [number, number, number, number], standing: boolean) => {
    const { dQ, acceleration } = push(y);
    return [y[1], dQ, standing ? 0 : acceleration, standing ? 0 : y[2]] as const;
  };
  let y: [number, number, number, number] = [V0, 0, 0, 0];
  let greatest_m = 0;
  while (Vb - y[0] > 1e-7 * (Vb - V0)) {
    const standing = y[3] <= 0 && y[2] <= 0 && push(y).acceleration <= 0;
    const soon = Math.min((K(y[0]) * Aj ** 2) / loss, Vb - y[0]) / y[1];
    const h = y[1] > 0 ? Math.min(step_s, 0.3 * soon) : 1e-9;
    const at = (k: readonly number[], part: number) =>
      y.map((yi, i) => yi + part * h * k[i]!) as [number, number, number, number];
    const a = slope(y, standing);
    const b = slope(at(a, 0.5), standing);
    const c = slope(at(b, 0.5), standing);
    const d = slope(at(c, 1), standing);
    const next = y.map((yi, i) => yi + (h / 6) * (a[i]! + 2 * b[i]! + 2 * c[i]! + d[i]!)) as typeof y;
    // At rest before the bottle is empty: the phase is over.
    if (next[1] <= 0) break;
    if (next[3] < 0) [next[2], next[3]] = [0, 0];
    y = next;
    greatest_m = Math.max(greatest_m, y[3]);
  }
  const kept_m_s = Vb - y[0] > 1e-6 * (Vb - V0) ? 0 : (rho * y[1] * Ln) / given.ridingMass_kg;
  const stands = y[3] <= 0 && y[2] <= 0;
  const speed_m_s = stands ? 0 : y[2] - kept_m_s;
  return { speed_m_s, height_m: Math.max(greatest_m, y[3] + Math.max(speed_m_s, 0) ** 2 / (2 * g)) };
}

describe("thrown with the start of the flow: as steps of a microsecond say", () => {
  test.each([
    ["1 kg and the bottle", { ...json, ridingMass_kg: 1.05 }],
    ["5 kg and the bottle", { ...json, ridingMass_kg: 5.05 }],
    ["a neck of 30 mm, and little that rides", { ...json, ridingMass_kg: 0.42, neckLength_m: 0.03 }],
    ["a wide neck", { ...json, ridingMass_kg: 1, neckLength_m: 0.05, neckDiameter_m: 0.04 }],
    ["a long narrow neck, its thrust rising at first", { ...json, ridingMass_kg: 1, neckLength_m: 0.3 }],
    ["a large opening", { ...json, ridingMass_kg: 2, openingDiameter_m: 0.05 }],
    ["lossy and contracted", { ...json, ridingMass_kg: 1, velocityCoefficient: 0.95, contraction: 0.7 }],
    ["no head, isothermal", { ...json, ridingMass_kg: 1, headOfWater: false, polytropicExponent: 1 }],
  ] as const)("%s", (_name, given) => {
    const expected = stepped(given);
    const found = computed(given);
    // What the steps leave out at the end, a ten-millionth of the water, and the polynomials' own 1e-7.
    expect(relative(found.speed_m_s, expected.speed_m_s)).toBeLessThan(1e-6);
    expect(relative(found.height_m, expected.height_m)).toBeLessThan(1e-6);
  });

  // A step decides when it lifts and lands: some 1e-4 of what such a short flight is.
  test.each([
    ["lifted by the spike, on the ground before the burn ends", { ...json, ridingMass_kg: 15 }],
    [
      "lifted by the spike alone, tenths of a millimetre",
      { ...json, ridingMass_kg: 40, neckLength_m: 0.002 },
    ],
    [
      "water left, over the top while still thrusting",
      { ...json, ridingMass_kg: 4, water_kg: 1.2, polytropicExponent: 1.4 },
    ],
    [
      "hops at the start, lifts in earnest once the water is lighter",
      {
        ...json,
        ridingMass_kg: 0.9,
        bottleVolume_m3: 0.02,
        bottleDiameter_m: 0.1,
        openingDiameter_m: 0.0135,
        water_kg: 1,
        setPressure_Pa: 60_000,
      },
    ],
  ] as const)("%s", (_name, given) => {
    const expected = stepped(given, 2e-6);
    const found = computed(given);
    expect(Math.abs(found.speed_m_s - expected.speed_m_s)).toBeLessThan(
      3e-4 * Math.max(1, Math.abs(expected.speed_m_s)),
    );
    expect(found.height_m).toBeGreaterThan(0);
    expect(relative(found.height_m, expected.height_m)).toBeLessThan(1e-3);
  });

  test("stands where even the spike does not lift it", () => {
    const given = { ...json, ridingMass_kg: 200 };
    expect(stepped(given)).toEqual({ speed_m_s: 0, height_m: 0 });
    expect(computed(given)).toMatchObject({ speed_m_s: 0, height_m: 0 });
  });
});
