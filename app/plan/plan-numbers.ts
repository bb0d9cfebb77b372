import type { Assumed } from "../../core/exchange/setup-fields.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { rigShot } from "../../core/plan/rig-shot.ts";
import { waterDensity_kg_m3, waterTemperatureRange_C } from "../../core/propulsion/water-density.ts";
import { failed, issue, type Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";

/** Every number that the plan works with, in SI; undefined where the field is empty. Keys as in S.json where there is one. */
export type PlanKey =
  | "water_kg"
  | "setPressure_Pa"
  | "bottleVolume_m3"
  | "bottleLimit_Pa"
  | "openingDiameter_m"
  | "bottleDiameter_m"
  | "neckLength_m"
  | "ridingMass_kg"
  | "ambientPressure_Pa"
  | "waterTemperature_C"
  | "airTemperature_C"
  | "polytropicExponent"
  | "velocityCoefficient"
  | "contraction"
  | "tankVolume_m3"
  | "tankPressure_Pa"
  | "workingMin_Pa"
  | "hoseVolume_m3"
  | "regulatorDrop_Pa";

export type PlanNumbers = { readonly [K in PlanKey]?: number | undefined };

/** Air between the post and the bottle that is filled and vented with it, until somebody measures it. */
const usualHose_m3 = 50e-6;
/** What a supply keeps above the set pressure. Common practice, no source. */
const usualDrop_Pa = 50_000;

/** The rig's own numbers, with its fill and set pressure as the first point. */
export function numbersOf(rig: Rig): PlanNumbers {
  const { supply } = rig;
  return {
    water_kg: rig.fill.water_kg,
    setPressure_Pa: rig.pressure.set_Pa,
    bottleVolume_m3: rig.bottle.capacity_m3,
    bottleLimit_Pa: rig.bottle.limit_Pa,
    openingDiameter_m: rig.opening.diameter_m,
    bottleDiameter_m: rig.bottle.diameter_m,
    neckLength_m: rig.opening.neckLength_m,
    ridingMass_kg: rig.ridingMass_kg,
    workingMin_Pa: supply.workingMin_Pa,
    ...(supply.kind === "tank" && { tankVolume_m3: supply.volume_m3, tankPressure_Pa: supply.full_Pa }),
    hoseVolume_m3: usualHose_m3,
    regulatorDrop_Pa: usualDrop_Pa,
  };
}

export type Plan = { readonly setup: ShotSetup; readonly assumed: Assumed; readonly limit_Pa: number };

/**
 * The shot at the chosen point.
 * @fails everything `rigShot` refuses; key-missing where the bottle's limit is not given
 */
export function readPlan(rig: Rig, numbers: PlanNumbers): Result<Plan> {
  const limit_Pa = numbers.bottleLimit_Pa;
  if (limit_Pa === undefined) {
    const remedy = "enter the pressure limit that the rig's owner has set for this bottle";
    return failed(issue("key-missing", "bottleLimit_Pa", "the bottle's limit is not given", remedy));
  }
  const edited = {
    ...rig,
    bottle: {
      ...rig.bottle,
      capacity_m3: numbers.bottleVolume_m3,
      diameter_m: numbers.bottleDiameter_m,
      limit_Pa,
    },
    opening: { diameter_m: numbers.openingDiameter_m, neckLength_m: numbers.neckLength_m },
    ridingMass_kg: numbers.ridingMass_kg,
  } as unknown as Rig;
  const shot = rigShot(edited, given(numbers) as { water_kg: number; setPressure_Pa: number });
  return shot.ok ? { ok: true, value: { ...shot.value, limit_Pa } } : shot;
}

const conditionKeys = [
  "water_kg",
  "setPressure_Pa",
  "ambientPressure_Pa",
  "waterTemperature_C",
  "airTemperature_C",
  "polytropicExponent",
  "velocityCoefficient",
  "contraction",
] as const;

/** An empty field is a key left out: the setup then says what it assumed, or that it is missing. */
function given(numbers: PlanNumbers): Readonly<Record<string, number>> {
  const kept: Record<string, number> = {};
  for (const key of conditionKeys) {
    const value = numbers[key];
    if (value !== undefined) kept[key] = value;
  }
  return kept;
}

/** For volumes of water in the form, also while other fields are wrong. */
export function planDensity_kg_m3({ waterTemperature_C = 20 }: PlanNumbers): number {
  const { least, greatest } = waterTemperatureRange_C;
  return waterDensity_kg_m3(Math.min(greatest, Math.max(least, waterTemperature_C)));
}
