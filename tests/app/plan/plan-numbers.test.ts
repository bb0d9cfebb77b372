import { expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { matrixCsv } from "../../../app/plan/matrix-csv.ts";
import { numbersOf, readPlan } from "../../../app/plan/plan-numbers.ts";
import { testMatrix } from "../../../core/plan/test-matrix.ts";

const { rig } = HERON;

test("a rig's own numbers are a plan, and say what they assume", () => {
  const plan = readPlan(rig, numbersOf(rig));
  expect(plan.ok && plan.value.setup).toMatchObject({
    water_kg: 0.6,
    setPressure_Pa: 300_000,
    bottleVolume_m3: 0.0015,
  });
  expect(plan.ok && Object.keys(plan.value.assumed)).toContain("ambientPressure_Pa");
});

test.each([
  ["more water than the bottle holds", { water_kg: 1.6 }, "water-exceeds-bottle", "water_kg"],
  [
    "a pressure above the owner's limit",
    { setPressure_Pa: 600_000 },
    "pressure-above-limit",
    "setPressure_Pa",
  ],
  ["an exponent outside its range", { polytropicExponent: 1.6 }, "out-of-range", "polytropicExponent"],
  ["a negative opening", { openingDiameter_m: -0.02 }, "out-of-range", "openingDiameter_m"],
  ["an empty capacity", { bottleVolume_m3: undefined }, "key-missing", "bottleVolume_m3"],
  ["an empty limit", { bottleLimit_Pa: undefined }, "key-missing", "bottleLimit_Pa"],
])("refuses %s at its own field", (_what, change, code, where) => {
  const plan = readPlan(rig, { ...numbersOf(rig), ...change });
  expect(plan.ok ? [] : plan.issues.map((one) => [one.code, one.where])).toContainEqual([code, where]);
});

test("the matrix leaves as CSV in SI, and no cell can pass for a formula", () => {
  const matrix = testMatrix({
    water_kg: [0.45],
    setPressure_Pa: [250_000],
    replicates: 1,
    crews: ["=P"],
    seed: 1,
  });
  expect(matrix.ok && matrixCsv(matrix.value, undefined)).toBe(
    "order,crew,block,water_kg,setPressure_Pa,run\r\n1,'=P,1,0.45,250000,\r\n",
  );
});
