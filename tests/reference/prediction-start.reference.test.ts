import { describe, expect, test } from "vitest";
import { shotOf } from "../../core/propulsion/shot.ts";
import { thrustCurve } from "../../core/propulsion/thrust-curve.ts";
import { columnEnd_m3, columnOf, columnState } from "../../core/propulsion/unsteady-start.ts";
import { integrate } from "./independent-numerics.ts";
import { nominal, predictionOf, relative, setupOf } from "./prediction-cases.ts";

const json = { ...nominal, polytropicExponent: 1.4, neckLength_m: 0.03 };
const columnFor = (given: Record<string, unknown>) => {
  const setup = setupOf(given);
  return columnOf({ ...setup, bottleDiameter_m: setup.bottleDiameter_m! }, shotOf(setup));
};
const curveFor = (given: Record<string, unknown>, unsteady: boolean) => {
  const result = thrustCurve(setupOf(given), { unsteady });
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

/** Unsteady Bernoulli of PHYSICS.md section 1 in time, written once more and stepped with error control. */
function inTime(given: Record<string, unknown>, stop: (V: number, Q: number) => number) {
  const setup = setupOf(given);
  const shot = shotOf(setup);
  const As = (Math.PI / 4) * setup.bottleDiameter_m! ** 2;
  const An = (Math.PI / 4) * setup.neckDiameter_m ** 2;
  const { density_kg_m3: rho, jetArea_m2: Aj } = shot;
  const Ln = setup.neckLength_m ?? 0;
  const terms = (V: number, Q: number) => {
    const h = (setup.bottleVolume_m3 - V) / As;
    const K = h / As + Ln / An;
    const H = h + Ln;
    const head = setup.headOfWater ? rho * setup.gravity_m_s2 * H : 0;
    const drive = shot.start_Pa * (shot.airVolume_m3 / V) ** shot.exponent - shot.ambient_Pa + head;
    const loss = 1 / shot.velocityCoefficient ** 2 - (Aj / As) ** 2;
    const rate = (drive - (rho / 2) * (Q / Aj) ** 2 * loss) / (rho * K);
    return { rate, thrust: rho * Q * (Q / Aj - Q / As) + rho * H * rate };
  };
  const { t, y } = integrate({
    start: [shot.airVolume_m3, 0, 0],
    slope: (_t, [V, Q]) => {
      const { rate, thrust } = terms(V!, Q!);
      return [Q!, rate, thrust];
    },
    goesOn: (_t, [V, Q]) => stop(V!, Q!),
    tolerance: 1e-10,
    scale: [1e-3, 1e-4, 1e-2],
  });
  const [V, Q, impulse] = y as [number, number, number];
  return { t, V, Q, impulse, thrust: terms(V, Q).thrust };
}

describe("unsteady start", () => {
  test.each([
    ["neck of 30 mm", json],
    ["wide neck", { ...json, neckDiameter_m: 0.028 }],
    ["small opening", { ...json, openingDiameter_m: 0.009 }],
    ["lossy and contracted", { ...json, velocityCoefficient: 0.95, contraction: 0.7 }],
    ["isothermal, no head", { ...json, polytropicExponent: 1, headOfWater: false }],
  ])("linear in Q² over volume agrees with steps in time: %s", (_name, given) => {
    const column = columnFor(given);
    const V0 = column.shot.airVolume_m3;
    const swept = given.bottleVolume_m3 - V0;
    for (const part of [1e-4, 0.003, 0.02, 0.1, 0.5, 0.999]) {
      const stepped = inTime(given, (V) => V0 + part * swept - V);
      const state = columnState(column, V0 + part * swept);
      expect(relative(state.flow_m3_s, stepped.Q)).toBeLessThan(1e-7);
      expect(relative(state.thrust_N, stepped.thrust)).toBeLessThan(1e-6);
    }
    const stepped = inTime(given, (V) => given.bottleVolume_m3 - V);
    const curve = curveFor(given, true);
    expect(relative(curve.waterEnd_s, stepped.t)).toBeLessThan(1e-7);
    expect(relative(curve.waterImpulse_Ns, stepped.impulse)).toBeLessThan(1e-7);
  });

  test("at first the thrust is A Δp H/(A K): about twice the quasi-steady one, and 433 N is quoted", () => {
    const curve = curveFor(json, true);
    const As = (Math.PI / 4) * 0.088 ** 2;
    const A = (Math.PI / 4) * 0.0217 ** 2;
    const h = 0.7 / 998.2067 / As;
    const expected = ((3e5 + 998.2067 * 9.80665 * (h + 0.03)) * (h + 0.03)) / (h / As + 0.03 / A);
    expect(relative(curve.thrust_N[0]!, expected)).toBeLessThan(1e-7);
    // PHYSICS.md section 1 (read) has 433 N with a neck counted slightly otherwise.
    expect(relative(curve.thrust_N[0]!, 433)).toBeLessThan(0.02);
  });

  test("90 % of the flow is there after 3.9 ms with a neck of 30 mm", () => {
    const column = columnFor(json);
    const steady = (V: number) => {
      const { shot } = column;
      const head = shot.headPerVolume_m_m3 * (shot.bottleVolume_m3 - V) + 0.03;
      const drive =
        shot.start_Pa * (shot.airVolume_m3 / V) ** 1.4 -
        shot.ambient_Pa +
        shot.density_kg_m3 * 9.80665 * head;
      return shot.jetArea_m2 * Math.sqrt((2 * drive) / (shot.density_kg_m3 * (1 - shot.areaRatio ** 2)));
    };
    const { t } = inTime(json, (V, Q) => 0.9 * steady(V) - Q);
    expect(t * 1e3).toBeCloseTo(3.9, 0);
  });

  test("the spike carries what the quasi-steady stand reading lacks: no impulse is lost", () => {
    // Start at Q = 0, end at H = 0: ∫T dt = ∫ρ Q v_j dt exactly, with no neck.
    const { neckLength_m: _, ...noNeck } = json;
    const curve = curveFor(noNeck, true);
    const column = columnFor(noNeck);
    const { shot } = column;
    let jet_Ns = 0;
    const steps = 20_000;
    for (let i = 0; i < steps; i++) {
      const V = shot.airVolume_m3 + (shot.waterVolume_m3 * (i + 0.5)) / steps;
      jet_Ns +=
        ((shot.density_kg_m3 * columnState(column, V).flow_m3_s) / shot.jetArea_m2) *
        (shot.waterVolume_m3 / steps);
    }
    const { air, water } = predictionOf(noNeck);
    expect(relative(curve.impulse_Ns, jet_Ns + air.impulse_Ns)).toBeLessThan(1e-4);
    // And it is what quasi-steady says, within the start-up time's share.
    expect(relative(jet_Ns, water.impulse_Ns)).toBeLessThan(0.005);
  });

  test("where the drive ends first the column's own momentum carries a little more water out", () => {
    const left = { ...json, water_kg: 1.2 };
    const column = columnFor(left);
    const stepped = inTime(left, (_V, Q) => Q + 1e-12);
    expect(relative(columnEnd_m3(column), stepped.V)).toBeLessThan(1e-5);
    expect(column.shot.density_kg_m3 * (0.0015 - columnEnd_m3(column))).toBeLessThan(
      predictionOf(left).water.left_kg,
    );
  });

  test("needs the bottle's section, and says so", () => {
    const { bottleDiameter_m: _, ...plain } = json;
    const result = thrustCurve(setupOf(plain), { unsteady: true });
    expect(result.ok ? [] : result.issues.map(({ code }) => code)).toEqual(["bottle-diameter-missing"]);
  });
});

describe("quasi-steady curve", () => {
  test.each([{}, { water_kg: 1.2 }, { water_kg: 0.2, setPressure_Pa: 6e5 }, { water_kg: 0 }])(
    "its impulse and times are the prediction's: %j",
    (changed) => {
      const curve = curveFor({ ...json, ...changed }, false);
      const { impulse_Ns, water, air } = predictionOf({ ...json, ...changed });
      expect(relative(curve.impulse_Ns, impulse_Ns)).toBeLessThan(1e-10);
      expect(Math.abs(curve.waterEnd_s - water.duration_s)).toBeLessThan(1e-12);
      expect(Math.abs(curve.end_s - water.duration_s - air.duration_s)).toBeLessThan(1e-12);
      for (let i = 1; i < curve.t_s.length; i++)
        expect(curve.t_s[i]!).toBeGreaterThanOrEqual(curve.t_s[i - 1]!);
    },
  );
});
