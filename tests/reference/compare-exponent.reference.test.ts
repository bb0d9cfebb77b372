import { describe, expect, test } from "vitest";
import { fitExponent } from "../../core/compare/exponent-fit.ts";
import { nominal, setupOf } from "./prediction-cases.ts";

const rate_Hz = 4000;
const lead_s = 0.02;

/**
 * A record from the unsteady equations of PHYSICS.md section 1, stepped in time by Runge-Kutta with
 * 2 µs: SYNTHETIC, and made by nothing of core/propulsion. A recorder that averages over its samples.
 */
function recordOf(n: number, { neck_m, Cv, gauge_Pa }: { neck_m: number; Cv: number; gauge_Pa: number }) {
  const [rho, g, pa, Vb] = [998.2067, 9.80665, 101_325, 0.0015];
  const A = (Math.PI / 4) * 0.0217 ** 2;
  const As = (Math.PI / 4) * 0.088 ** 2;
  const V0 = Vb - 0.7 / rho;
  const terms = (V: number, Q: number) => {
    const h = (Vb - V) / As;
    const K = h / As + neck_m / A;
    const drive = (pa + gauge_Pa) * (V0 / V) ** n - pa + rho * g * (h + neck_m);
    const rate = (drive - (rho / 2) * (Q / A) ** 2 * (1 / Cv ** 2 - (A / As) ** 2)) / (rho * K);
    return { rate, thrust: rho * Q * (Q / A - Q / As) + rho * (h + neck_m) * rate };
  };
  const step_s = 2e-6;
  const perSample = Math.round(1 / (rate_Hz * step_s));
  const thrust_N: number[] = new Array(Math.round(lead_s * rate_Hz)).fill(0);
  const steady: { V: number; T: number }[] = [];
  let [V, Q, sum, steps] = [V0, 0, 0, 0];
  while (V < Vb) {
    const k1 = terms(V, Q);
    const k2 = terms(V + (step_s / 2) * Q, Q + (step_s / 2) * k1.rate);
    sum += k1.thrust;
    if (++steps % perSample === 0) {
      thrust_N.push(sum / perSample);
      sum = 0;
      if (steps * step_s > 0.01) steady.push({ V, T: k1.thrust });
    }
    V += step_s * (Q + (step_s / 2) * k1.rate);
    Q += step_s * k2.rate;
  }
  const waterEnd_s = steps * step_s;
  // The air phase is not fitted: its start is left out with the water's end, and nothing follows here.
  thrust_N.push(...new Array(200).fill(0));
  return { record: { thrust_N: Float64Array.from(thrust_N), rate_Hz, first_s: -lead_s, waterEnd_s }, steady };
}

const fitted = (record: Parameters<typeof fitExponent>[1], changed = {}, fitVelocityCoefficient = false) => {
  const result = fitExponent(setupOf({ ...nominal, ...changed }), record, {
    fitVelocityCoefficient,
    sensitivityRelU: 0.01,
  });
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

describe("exponent fitted with the unsteady model", () => {
  test.each([
    [1.05, 0.03],
    [1.25, 0.03],
    [1.38, 0.03],
    [1.25, 0.05],
  ])("n = %d comes back, neck %d m", (n, neck_m) => {
    const { record } = recordOf(n, { neck_m, Cv: 1, gauge_Pa: 3e5 });
    const fit = fitted(record, { neckLength_m: neck_m });
    expect(fit.model).toBe("unsteady");
    // The jump at the water's end reaches back through the low-pass a little.
    expect(Math.abs(fit.exponent - n)).toBeLessThan(5e-4);
    expect(Math.abs(fit.contraction - 1)).toBeLessThan(2e-3);
    expect(fit.u).toBeGreaterThan(0.015);
    expect(fit.u).toBeLessThan(0.035);
  });

  /** PHYSICS.md section 8 (read): the plain slope of ln p on ln V gives 1.222 for a true 1.25. */
  test("removes what the plain slope of ln p on ln V leaves: 1.222 for 1.25", () => {
    const { record, steady } = recordOf(1.25, { neck_m: 0.03, Cv: 1, gauge_Pa: 3e5 });
    const A = (Math.PI / 4) * 0.0217 ** 2;
    const rho = 998.2067;
    const used = steady.slice(0, Math.floor(0.95 * steady.length));
    const [x, y] = [
      used.map(({ V }) => Math.log(V)),
      used.map(({ T }) => {
        const v = Math.sqrt(T / (rho * A * (1 - (0.0217 / 0.088) ** 2)));
        return Math.log(101_325 + (rho * v * v) / 2);
      }),
    ];
    const mean = (list: number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
    const [mx, my] = [mean(x), mean(y)];
    const slope =
      x.reduce((sum, xi, i) => sum + (xi - mx) * (y[i]! - my), 0) /
      x.reduce((sum, xi) => sum + (xi - mx) ** 2, 0);
    expect(Math.abs(-slope - 1.222)).toBeLessThan(0.01);
    expect(Math.abs(fitted(record, { neckLength_m: 0.03 }).exponent - 1.25)).toBeLessThan(5e-4);
  });

  test("fits the velocity coefficient too where asked, from the shape alone", () => {
    const { record } = recordOf(1.25, { neck_m: 0.03, Cv: 0.96, gauge_Pa: 3e5 });
    const fit = fitted(record, { neckLength_m: 0.03 }, true);
    // Four parameters share one smooth curve: a tenth of a newton at its end already moves them this far.
    expect(Math.abs(fit.exponent - 1.25)).toBeLessThan(0.01);
    expect(Math.abs(fit.velocityCoefficient - 0.96)).toBeLessThan(0.01);
  });

  test("cannot tell a wrong pressure from another exponent, and its budget says by how much", () => {
    const { record } = recordOf(1.25, { neck_m: 0.03, Cv: 1, gauge_Pa: 3e5 });
    const right = fitted(record, { neckLength_m: 0.03 });
    const wrong = fitted(record, { neckLength_m: 0.03, setPressure_Pa: 303_000 });
    const slope = right.rows.find((row) => row.source === "setPressure_Pa")!.slope;
    expect(Math.abs(wrong.exponent - right.exponent - 3000 * slope)).toBeLessThan(5e-4);
    expect(3000 * slope).toBeGreaterThan(0.005);
    // The curve still fits to a fifth of a newton: nothing in the record betrays the pressure.
    expect(wrong.residual_N).toBeLessThan(0.3);
  });
});
