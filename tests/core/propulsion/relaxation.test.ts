import { describe, expect, test } from "vitest";
import { relaxation, relaxedAt } from "../../../core/propulsion/relaxation.ts";

const places = [0, 1e-9, 0.01, 0.3, 0.5, 0.77, 1];

/** Closed forms by hand: dy/dx = g (D - y). */
describe("a quantity that runs after its target", () => {
  test.each([0.01, 1, 16])("as 1 - exp(-g x) after a constant one, g = %d", (rate) => {
    const found = relaxation({ length: 1, start: 0, rate: () => rate, target: () => 1 });
    for (const t of places) expect(relaxedAt(found, t)).toBeCloseTo(-Math.expm1(-rate * t), 6);
  });

  test("keeps its digits near a start of 0", () => {
    const found = relaxation({ length: 1, start: 0, rate: () => 2, target: () => 1 });
    for (const t of [1e-6, 1e-12, 1e-18]) expect(relaxedAt(found, t) / (2 * t)).toBeCloseTo(1, 5);
  });

  test("lags a rising one by 1/g, however stiff", () => {
    for (const rate of [30, 1e3, 1e6]) {
      // y = 3 + x - 1/g solves it for D = 3 + x: nothing to forget.
      const start = 3 - 1 / rate;
      const found = relaxation({ length: 2, start, rate: () => rate, target: (t) => 3 + 2 * t });
      for (const t of places) expect(relaxedAt(found, t)).toBeCloseTo(start + 2 * t, 10);
    }
  });

  test("meets the target where the rate grows without bound at the end", () => {
    // g = β/(1 - x), D = x, with u = 1 - x: y = x - (u - u^β)/(β - 1).
    const β = 5;
    const found = relaxation({ length: 1, start: 0, rate: (t) => β / (1 - t), target: (t) => t });
    for (const t of places) {
      expect(relaxedAt(found, t)).toBeCloseTo(t - (1 - t - (1 - t) ** β) / (β - 1), 10);
    }
  });
});
