import { describe, expect, test } from "vitest";
import { extremesOf, findClipping } from "../../../core/force/clipping.ts";
import { findStrays } from "../../../core/force/strays.ts";
import { Seeded } from "./synthetic/seeded.ts";

const clipping = (values: Float64Array) => findClipping(values, extremesOf(values));
const strays = (values: Float64Array) => findStrays(values, extremesOf(values));

/** A ringing pulse with noise, printed to a number of decimals. */
function pulse(seed: number, digits: number, limit = Number.POSITIVE_INFINITY): Float64Array {
  const random = new Seeded(seed);
  return Float64Array.from({ length: 4000 }, (_, i) => {
    const t = (i - 1000) / 2000;
    const ring = t > 0 && t < 0.3 ? 120 * (1 - t / 0.3) + 90 * Math.exp(-30 * t) * Math.cos(900 * t) : 0;
    return Number(Math.min(limit, ring + 0.2 * random.normal()).toFixed(digits));
  });
}

describe("a limit", () => {
  test.each([[1], [2], [3], [4], [5]])(
    "is found where the channel stood at it, and counted (seed %d)",
    (seed) => {
      const clipped = pulse(seed, 4, 100);
      const found = clipping(clipped);
      expect(found.above).toBe(100);
      expect(found.count).toBe(clipped.filter((x) => x === 100).length);
      expect(found.count).toBeGreaterThan(5);
    },
  );

  test("below is found as well", () => {
    const found = clipping(pulse(3, 4, 100).map((x) => -x));
    expect([found.below, found.above]).toEqual([-100, undefined]);
  });

  test.each([0, 1, 2, 3, 4])("is not seen in natural peaks printed to %d decimals (40 seeds)", (digits) => {
    for (let seed = 1; seed <= 40; seed++)
      expect(clipping(pulse(seed, digits)).count, `seed ${seed}`).toBe(0);
  });

  test("is not seen in noise, in silence or in nothing", () => {
    const random = new Seeded(9);
    const noise = Float64Array.from({ length: 5000 }, () => Number((0.1 * random.normal()).toFixed(2)));
    expect([noise, new Float64Array(100), new Float64Array(0)].map((x) => clipping(x).count)).toEqual([
      0, 0, 0,
    ]);
  });
});

describe("a stray sample", () => {
  test("is found, and only it", () => {
    const values = pulse(4, 4);
    values[1100] = 2500;
    values[3000] = -1800;
    expect(strays(values)).toEqual([1100, 3000]);
  });

  test("is not seen in ringing, however slowly it was sampled (20 seeds)", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const slow = pulse(seed, 3).filter((_, i) => i % 4 === 0);
      expect(strays(slow), `seed ${seed}`).toEqual([]);
    }
  });

  test("is not seen in a step that stays", () => {
    expect(strays(Float64Array.from({ length: 100 }, (_, i) => (i < 50 ? 0 : 300)))).toEqual([]);
  });
});
