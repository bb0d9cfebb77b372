import { issue } from "../../result.ts";
import { among, type Contradiction, when } from "./contradiction.ts";

/** Bottle, opening and water: what cannot hold or pass what it is said to. */

// Water at 40 °C, the lightest that is ever filled: 992.2 kg/m³ (Kell 1975, as in core/propulsion).
const LIGHTEST_WATER_kg_m3 = 992.2;

export const fillContradictions: readonly Contradiction[] = [
  among(["bottle", "fill"], ({ bottle, fill }) =>
    when((fill.water_kg + fill.tolerance_kg) / LIGHTEST_WATER_kg_m3 >= bottle.capacity_m3, () =>
      issue(
        "water-exceeds-bottle",
        "fill.water_kg",
        `${fill.water_kg} kg with its tolerance fills the whole bottle of ${bottle.capacity_m3} m³`,
        "Leave room for air, or correct the capacity.",
      ),
    ),
  ),
  among(["fill"], ({ fill }) =>
    when(fill.tolerance_kg >= fill.water_kg && fill.water_kg > 0, () =>
      issue(
        "tolerance-too-wide",
        "fill.tolerance_kg",
        `a tolerance of ${fill.tolerance_kg} kg on ${fill.water_kg} kg accepts an empty bottle`,
        "Give the tolerance of the scale or the vessel.",
      ),
    ),
  ),
  among(["bottle"], ({ bottle }) =>
    when(bottle.capacityU_m3 >= bottle.capacity_m3, () =>
      issue(
        "tolerance-too-wide",
        "bottle.capacityU_m3",
        `an uncertainty of ${bottle.capacityU_m3} m³ on ${bottle.capacity_m3} m³`,
        "Give the standard uncertainty of the capacity: 5 mL is 0.000005.",
      ),
    ),
  ),
  among(["bottle", "opening"], ({ bottle, opening }) =>
    when(bottle.diameter_m !== undefined && opening.diameter_m >= bottle.diameter_m, () =>
      issue(
        "opening-exceeds-bottle",
        "opening.diameter_m",
        `an opening of ${opening.diameter_m} m in a bottle of ${bottle.diameter_m} m`,
        "Give both in metres: 21.7 mm is 0.0217.",
      ),
    ),
  ),
];
