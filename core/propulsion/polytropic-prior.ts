import { assert } from "../assert.ts";

export type Moisture = "saturated" | "dry";
/** A belief about a quantity before it was measured: the mean and k = 1 of a rectangular spread. */
export type Prior = {
  readonly mean: number;
  readonly u: number;
  readonly least: number;
  readonly greatest: number;
};

export const airTemperatureRange_C = { least: -20, greatest: 60 } as const;

/**
 * Exponent of saturated air that expands without heat from outside, its vapour condensing in
 * equilibrium: volume doubled from 2.8 bar gauge. One row every 10 °C from -20 to 60 °C.
 * Source: recomputed from the energy balance of dry air, vapour (IAPWS-IF97 saturation line) and
 * condensate; PHYSICS.md section 1 gives 1.375, 1.338, 1.298, 1.258 at 5, 20, 30, 38 °C, and the
 * same balance gives 1.3746, 1.3383, 1.2980, 1.2589 there.
 */
const saturatedExponent = [1.3957, 1.3908, 1.3816, 1.3653, 1.3383, 1.298, 1.249, 1.2064, 1.1792] as const;
const tableStep_C = 10;

/** Walls and spray warm the air; nothing seen at rest on a stand went below this (PHYSICS.md section 1). */
const leastExponent = 1.2;
/** Part of the vapour does not condense within the tenth of a second: 1.38 at 20 °C where equilibrium says 1.338. */
const lagOfCondensation = 0.042;
export const dryAdiabaticExponent = 1.4;

/**
 * What the exponent of p Vⁿ may be when nobody has fitted it: rectangular between the warmed and
 * the unwarmed expansion. Replace it by the stand's own fit as soon as there is one.
 * @param airTemperature_C  within `airTemperatureRange_C`
 * @param moisture  "saturated" for air that has bubbled through the water, which is the rule
 * @source docs/model.md#exponent
 */
export function polytropicPrior(airTemperature_C: number, moisture: Moisture = "saturated"): Prior {
  const greatest =
    moisture === "dry"
      ? dryAdiabaticExponent
      : Math.min(dryAdiabaticExponent, equilibriumExponent(airTemperature_C) + lagOfCondensation);
  return {
    mean: (leastExponent + greatest) / 2,
    u: (greatest - leastExponent) / Math.sqrt(12),
    least: leastExponent,
    greatest,
  };
}

function equilibriumExponent(airTemperature_C: number): number {
  const { least, greatest } = airTemperatureRange_C;
  assert(
    airTemperature_C >= least && airTemperature_C <= greatest,
    "air temperature outside the prior's table",
  );
  const row = (airTemperature_C - least) / tableStep_C;
  const below = Math.min(Math.floor(row), saturatedExponent.length - 2);
  const low = saturatedExponent[below]!;
  const high = saturatedExponent[below + 1]!;
  return low + (high - low) * (row - below);
}
