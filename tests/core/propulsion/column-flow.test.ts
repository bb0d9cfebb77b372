import fc from "fast-check";
import { expect, test } from "vitest";
import { parseSetup } from "../../../core/exchange/setup.ts";
import { columnFlow, takenUp_Pa } from "../../../core/propulsion/column-flow.ts";
import { shotOf } from "../../../core/propulsion/shot.ts";
import { columnEnd_m3, columnOf, columnState } from "../../../core/propulsion/unsteady-start.ts";

const columnFor = (json: Record<string, unknown>) => {
  const parsed = parseSetup(json, "predict");
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  const { setup } = parsed.value;
  return columnOf({ ...setup, bottleDiameter_m: setup.bottleDiameter_m! }, shotOf(setup));
};

/** Quadrature of the same equation, point by point (unsteady-start.ts): slow, and itself held by steps in time. */
test("the flow, solved once, is at every volume what the quadrature gives there", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 2e-4, max: 0.05, noNaN: true }),
      fc.double({ min: 0.02, max: 0.9, noNaN: true }),
      fc.double({ min: 2e4, max: 1e6, noNaN: true }),
      fc.double({ min: 0.05, max: 0.6, noNaN: true }),
      fc.constantFrom(0, 0.02),
      (bottleVolume_m3, fill, setPressure_Pa, ratio, neckLength_m) => {
        const bottleDiameter_m = Math.cbrt(bottleVolume_m3 / 2);
        const column = columnFor({
          water_kg: 990 * fill * bottleVolume_m3,
          setPressure_Pa,
          bottleVolume_m3,
          bottleDiameter_m,
          openingDiameter_m: ratio * bottleDiameter_m,
          neckLength_m,
          polytropicExponent: 1.25,
        });
        const { shot, loss } = column;
        const flow = columnFlow(column);
        expect(Math.abs(shot.airVolume_m3 + flow.end_m3 - columnEnd_m3(column))).toBeLessThan(
          1e-6 * shot.waterVolume_m3,
        );
        for (const part of [1e-4, 0.01, 0.1, 0.5, 0.9]) {
          const swept_m3 = part * flow.end_m3;
          const { flow_m3_s } = columnState(column, shot.airVolume_m3 + swept_m3);
          const expected_Pa = (shot.density_kg_m3 / 2) * loss * (flow_m3_s / shot.jetArea_m2) ** 2;
          const drive_Pa = shot.start_Pa - shot.ambient_Pa;
          expect(Math.abs(takenUp_Pa(flow, swept_m3) - expected_Pa) / drive_Pa).toBeLessThan(1e-6);
        }
      },
    ),
    { numRuns: 300 },
  );
});

test("a drop of water behind a pinhole is still a flow", () => {
  const column = columnFor({
    water_kg: 1e-6,
    setPressure_Pa: 3e5,
    bottleVolume_m3: 0.0015,
    bottleDiameter_m: 0.088,
    openingDiameter_m: 0.0005,
    polytropicExponent: 1.25,
  });
  const flow = columnFlow(column);
  expect(flow.emptied).toBe(true);
  expect(takenUp_Pa(flow, column.shot.waterVolume_m3 / 2) / 3e5).toBeCloseTo(1, 2);
});
