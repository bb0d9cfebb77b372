import { describe, expect, test } from "vitest";
import { ordinaryCase } from "./synthetic/ordinary.ts";
import { fineStep_s } from "./synthetic/record.ts";
import { errorsOf, reduceCase, seeds } from "./synthetic/reduced.ts";
import { type Shot, strangeShot, waterShot } from "./synthetic/shot.ts";

/**
 * What another generator than ours found at fault, each as the smallest SYNTHETIC case of its kind: soft
 * stands, slow recorders, a start in a gap, a leaking valve, water that stays, knocks one after the other.
 */
describe("a stand that rings as slowly as the burn changes", () => {
  test.each([
    [42, 0.01, 4000],
    [50, 0.013, 10_000],
    [57, 0.015, 1000],
    [80, 0.036, 500],
  ])(
    "at %i Hz with damping %f and %i samples a second: the water's end is not a swing",
    (ring_Hz, damping, rate_Hz) => {
      for (const seed of seeds(6001, 4)) {
        const synthetic = ordinaryCase(seed, { ring_Hz, damping, rate_Hz, length_s: 4.5 });
        const errors = errorsOf(reduceCase(synthetic), synthetic);
        expect(Math.abs(errors.waterEnd_s), `seed ${seed}`).toBeLessThan(0.006);
        expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.005);
      }
    },
    60_000,
  );
});

describe("a stand that rings at a third of the rate", () => {
  test("keeps its crests: a sample alone at the top is no stray", () => {
    for (const seed of seeds(6051, 4)) {
      const synthetic = ordinaryCase(seed, { ring_Hz: 332.6, damping: 0.007, rate_Hz: 1000, length_s: 4 });
      const result = reduceCase(synthetic);
      expect(Math.abs(errorsOf(result, synthetic).impulse), `seed ${seed}`).toBeLessThan(0.01);
      expect(
        result.ok && result.value.trace.channels.map((c) => c.values.filter(Number.isNaN).length),
      ).toEqual([0, 0]);
    }
  });
});

describe("samples missing over the start itself", () => {
  test("cost what nobody can know, and the uncertainty says so", () => {
    for (const seed of seeds(6101, 6)) {
      const synthetic = ordinaryCase(seed, { rate_Hz: 2000 });
      const first = Math.round(synthetic.onset_s * 2000) - 6;
      const missing = new Set(Array.from({ length: 12 }, (_, i) => first + i));
      const result = reduceCase(synthetic, { missing });
      const { impulse, warnings } = errorsOf(result, synthetic);
      const u = result.ok ? result.value.events[0]!.withoutCalibration.u : 0;
      expect(Math.abs(impulse) * synthetic.shot.impulse_Ns, `seed ${seed}`).toBeLessThan(2.5 * u);
      expect(warnings).toContain("gap-in-event");
    }
  });
});

describe("a valve that leaks before it opens", () => {
  const leaking = (shot: Shot, part: number, lasts_s: number): Shot => {
    const n = Math.round(lasts_s / shot.step_s);
    const leak_N = part * shot.thrust_N[Math.round(0.02 / shot.step_s)]!;
    const thrust_N = Float64Array.from([...new Array<number>(n).fill(leak_N), ...shot.thrust_N]);
    return {
      ...shot,
      thrust_N,
      gone_kg: Float64Array.from([...new Array<number>(n).fill(0), ...shot.gone_kg]),
      impulse_Ns: shot.impulse_Ns + leak_N * n * shot.step_s,
      waterEnd_s: shot.waterEnd_s + lasts_s,
      end_s: shot.end_s + lasts_s,
    };
  };

  // Whether air leaks or water nobody can see, and the weight is taken to leave with both.
  test.each([0.01, 0.02, 0.04])("counts that too, at %f of the thrust", (part) => {
    for (const seed of seeds(6201, 3)) {
      const synthetic = ordinaryCase(seed, {
        noise_N: 0.2,
        shot: (_random, conditions) => leaking(waterShot(conditions, fineStep_s), part, 0.06),
      });
      expect(Math.abs(errorsOf(reduceCase(synthetic), synthetic).impulse), `seed ${seed}`).toBeLessThan(
        0.005,
      );
    }
  });
});

describe("a shot that leaves water in the bottle", () => {
  test("is found, and its end level told", () => {
    for (const seed of seeds(6301, 4)) {
      const synthetic = ordinaryCase(seed, {
        conditions: { bottle_m3: 0.0015, water_kg: 1.1, gauge_Pa: 2e5, exponent: 1.38, opening_m: 0.018 },
      });
      expect(synthetic.shot.gone_kg.at(-1)! / 1.1, `seed ${seed}`).toBeLessThan(0.6);
      const { warnings } = errorsOf(reduceCase(synthetic), synthetic);
      expect(warnings, `seed ${seed}`).toContain("end-level-off");
    }
  });
});

describe("knocks one after the other", () => {
  const twice = (knock: Shot, pause_s: number): Shot => {
    const pause = new Array<number>(Math.round(pause_s / knock.step_s)).fill(0);
    const thrust_N = Float64Array.from([...knock.thrust_N, ...pause, ...knock.thrust_N]);
    return { ...knock, thrust_N, gone_kg: thrust_N.map(() => 0), end_s: thrust_N.length * knock.step_s };
  };

  test("are not put together to a shot that would have been too long for its water", () => {
    for (const seed of seeds(6401, 4)) {
      const synthetic = ordinaryCase(seed, {
        noise_N: 0.1,
        conditions: { opening_m: 0.0217, water_kg: 0.3, gauge_Pa: 3e5 },
        shot: () => twice(strangeShot("half-sine", 2, 0.012, 1e-9, true, fineStep_s), 0.45),
      });
      const result = reduceCase(synthetic);
      expect(result.ok && result.value.events.length, `seed ${seed}`).toBe(0);
    }
  }, 60_000);
});
