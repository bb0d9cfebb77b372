import { assert } from "../assert.ts";
import type { ShotSetup } from "../exchange/setup-shot.ts";
import { type Performance, performanceOf } from "../propulsion/performance.ts";
import { shotOf } from "../propulsion/shot.ts";

/** Every output of a prediction that has a value for every shot with water in it. */
const quantities = {
  impulse_Ns: (p: Performance) => p.impulse_Ns,
  specificImpulse_s: (p: Performance) => p.specificImpulse_s ?? Number.NaN,
  thrustStart_N: (p: Performance) => p.water.thrustStart_N,
  thrustEnd_N: (p: Performance) => p.water.thrustEnd_N,
  duration_s: (p: Performance) => p.water.duration_s + p.air.duration_s,
  waterImpulse_Ns: (p: Performance) => p.water.impulse_Ns,
  waterDuration_s: (p: Performance) => p.water.duration_s,
  expelled_kg: (p: Performance) => p.water.expelled_kg,
  left_kg: (p: Performance) => p.water.left_kg,
  jetEnergy_J: (p: Performance) => p.water.jetEnergy_J,
  airImpulse_Ns: (p: Performance) => p.air.impulse_Ns,
  airDuration_s: (p: Performance) => p.air.duration_s,
} as const;

export type MapQuantity = keyof typeof quantities;
export const mapQuantities = Object.keys(quantities) as readonly MapQuantity[];

export type MapAxes = {
  /** Above 0 and below what fills the bottle, rising. */
  readonly water_kg: readonly number[];
  /** Gauge, above 0, rising. */
  readonly setPressure_Pa: readonly number[];
};

export type PerformanceMap = MapAxes & {
  /** One value for each point, row after row: `values[i * water_kg.length + j]` at pressure i and water j. */
  readonly values: Readonly<Record<MapQuantity, Float64Array>>;
};

/**
 * What a bottle gives over fill and pressure, everything else as in the setup.
 * Limits are the rig's and are drawn over it; nothing is left out here.
 */
export function performanceMap(setup: ShotSetup, axes: MapAxes): PerformanceMap {
  const columns = axes.water_kg.length;
  const size = columns * axes.setPressure_Pa.length;
  const values = Object.fromEntries(
    mapQuantities.map((quantity) => [quantity, new Float64Array(size)]),
  ) as Record<MapQuantity, Float64Array>;
  const greatest_kg = setup.bottleVolume_m3 * setup.waterDensity_kg_m3;
  for (const water_kg of axes.water_kg) {
    assert(water_kg > 0 && water_kg < greatest_kg, `a fill of ${water_kg} kg is outside the bottle`);
  }
  const shot: { -readonly [K in keyof ShotSetup]: ShotSetup[K] } = { ...setup };
  for (const [i, setPressure_Pa] of axes.setPressure_Pa.entries()) {
    assert(setPressure_Pa > 0, "a map's pressures are above the surroundings");
    shot.setPressure_Pa = setPressure_Pa;
    for (const [j, water_kg] of axes.water_kg.entries()) {
      shot.water_kg = water_kg;
      const performance = performanceOf(shotOf(shot));
      const at = i * columns + j;
      for (const quantity of mapQuantities) values[quantity][at] = quantities[quantity](performance);
    }
  }
  return { ...axes, values };
}

/** Evenly spaced values, both ends included. */
export function evenly(from: number, to: number, count: number): readonly number[] {
  assert(count >= 2, "an axis has two ends");
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
