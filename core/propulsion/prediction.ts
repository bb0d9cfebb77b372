import type { ShotSetup } from "../exchange/setup-shot.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import { type Performance, performanceOf } from "./performance.ts";
import { predictionBudget } from "./prediction-budget.ts";
import { type Shot, shotOf } from "./shot.ts";
import {
  isentropicAvailable_J,
  isothermalAvailable_J,
  pneumaticTestDistance_m,
  pneumaticTestEnergy_J,
  tnt_kg,
} from "./stored-energy.ts";
import { type Throw, throwOf } from "./throw.ts";
import { throwArcs } from "./throw-arcs.ts";
import { waterPhase } from "./water-phase.ts";

/** What a shot will give; the keys are those of the terminal's JSON. */
export type Prediction = Performance & {
  readonly energy: {
    /** ∫ (p - p_a) dV over the water phase. */
    readonly workOnWater_J: number;
    readonly isentropicAvailable_J: number;
    readonly isothermalAvailable_J: number;
    /** ASME PCC-2, with the text's own P_a. */
    readonly pcc2_J: number;
  };
  readonly distance: { readonly pcc2_m: number; readonly tnt_kg: number };
  /** Where a riding mass is given. */
  readonly throw?: Throw;
  readonly u: { readonly impulse_Ns: number };
};

/**
 * Predicts a shot: quasi-steady water phase, then the air, the bottle held; the throw with the start
 * of the flow where the bottle's diameter is given.
 * @returns every figure to 1e-9 of what the equations say, the throw's to 1e-6; `u` is what the inputs leave open (k = 1)
 * @fails water-exceeds-bottle, opening-exceeds-bottle, pressure-not-positive; a parsed setup never does
 * @source docs/model.md
 */
export function predict(setup: ShotSetup): Result<Prediction> {
  const shot = shotOf(setup);
  const refused = impossible(shot);
  if (refused.length > 0) return failed(...refused);
  const water = waterPhase(shot);
  const performance = performanceOf(shot, water);
  const charge = { pressure_Pa: shot.start_Pa, volume_m3: shot.airVolume_m3 };
  const pcc2_J = pneumaticTestEnergy_J(charge);
  const tntEquivalent_kg = tnt_kg(pcc2_J);
  return ok({
    ...performance,
    energy: {
      workOnWater_J: water.workOnWater_J,
      isentropicAvailable_J: isentropicAvailable_J(charge, shot.ambient_Pa),
      isothermalAvailable_J: isothermalAvailable_J(charge, shot.ambient_Pa),
      pcc2_J,
    },
    distance: { pcc2_m: pneumaticTestDistance_m(tntEquivalent_kg), tnt_kg: tntEquivalent_kg },
    ...(setup.ridingMass_kg !== undefined && {
      throw: throwOf(throwArcs(setup, shot, water), {
        ridingMass_kg: setup.ridingMass_kg,
        impulse_Ns: performance.impulse_Ns,
        gravity_m_s2: shot.gravity_m_s2,
      }),
    }),
    u: { impulse_Ns: predictionBudget(setup).u_impulse_Ns },
  });
}

/** What the equations cannot do without, for setups that did not come through the parser. */
function impossible(shot: Shot) {
  const issues = [];
  if (!(shot.airVolume_m3 > 0)) {
    issues.push(
      issue(
        "water-exceeds-bottle",
        "water_kg",
        "the water leaves no room for air",
        "give less water or a larger bottle",
      ),
    );
  }
  if (!(shot.areaRatio < 1)) {
    issues.push(
      issue(
        "opening-exceeds-bottle",
        "openingDiameter_m",
        "the opening is not narrower than the bottle",
        "look whether the two are swapped",
      ),
    );
  }
  if (!(shot.start_Pa > shot.ambient_Pa)) {
    issues.push(
      issue(
        "pressure-not-positive",
        "setPressure_Pa",
        "the set pressure is not above the surroundings",
        "give the gauge pressure, above 0",
      ),
    );
  }
  return issues;
}
