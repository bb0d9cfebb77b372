import type { ShotSetup } from "../exchange/setup-shot.ts";
import { performanceOf } from "../propulsion/performance.ts";
import { shotOf } from "../propulsion/shot.ts";
import {
  brode_J,
  isothermalAvailable_J,
  pneumaticTestDistance_m,
  pneumaticTestEdition,
  pneumaticTestEnergy_J,
  tnt_kg,
} from "../propulsion/stored-energy.ts";
import { throwOf } from "../propulsion/throw.ts";
import { throwArcs } from "../propulsion/throw-arcs.ts";
import { waterPhase } from "../propulsion/water-phase.ts";

/**
 * What a charge could do, as estimates with the formula each rests on. They inform; the distances
 * people keep are the rig owner's, and the site's rules and its responsible person come first.
 */
export type HazardNumbers = {
  readonly stored: {
    readonly edition: string;
    /** The air above the water. */
    readonly energy_J: number;
    /** The whole bottle as gas, as if the water had gone: a bound. */
    readonly wholeBottle_J: number;
    readonly isothermal_J: number;
    readonly brode_J: number;
    readonly tnt_kg: number;
    readonly distance_m: number;
    /** With twice the TNT, as a later edition is quoted at second hand. */
    readonly distanceTwiceTnt_m: number;
    /** The 30 m minimum decides, and not the energy. */
    readonly leastDistanceGoverns: boolean;
  };
  readonly thrown: {
    readonly ridingMass_kg: number;
    readonly expected: { readonly speed_m_s: number; readonly height_m: number; readonly range_m: number };
    /** All impulse at once, no weight of water carried. */
    readonly impulseBound: {
      readonly speed_m_s: number;
      readonly height_m: number;
      readonly range_m: number;
    };
    /** All stored energy (PCC-2) into height: E/(M g). */
    readonly energyBoundHeight_m: number;
  };
};

/**
 * Stored energy with its distance, and what flies with every restraint open.
 * @param ridingMass_kg  bottle included, water not
 * @source docs/model.md#distance, docs/model.md#throw
 */
export function hazardNumbers(setup: ShotSetup, ridingMass_kg: number): HazardNumbers {
  const shot = shotOf(setup);
  const charge = { pressure_Pa: shot.start_Pa, volume_m3: shot.airVolume_m3 };
  const energy_J = pneumaticTestEnergy_J(charge);
  const mass_kg = tnt_kg(energy_J);
  const water = waterPhase(shot);
  const { impulse_Ns } = performanceOf(shot, water);
  const { gravity_m_s2 } = shot;
  const thrown = throwOf(throwArcs(setup, shot, water), {
    ridingMass_kg,
    impulse_Ns,
    gravity_m_s2,
  });
  const distance_m = pneumaticTestDistance_m(mass_kg);
  return {
    stored: {
      edition: pneumaticTestEdition,
      energy_J,
      wholeBottle_J: pneumaticTestEnergy_J({ ...charge, volume_m3: shot.bottleVolume_m3 }),
      isothermal_J: isothermalAvailable_J(charge, shot.ambient_Pa),
      brode_J: brode_J(charge, shot.ambient_Pa),
      tnt_kg: mass_kg,
      distance_m,
      distanceTwiceTnt_m: pneumaticTestDistance_m(2 * mass_kg),
      leastDistanceGoverns: distance_m === pneumaticTestDistance_m(0),
    },
    thrown: {
      ridingMass_kg,
      // At a slant the range reaches twice the height at most, so both are said.
      expected: { speed_m_s: thrown.speed_m_s, height_m: thrown.height_m, range_m: 2 * thrown.height_m },
      impulseBound: {
        speed_m_s: impulse_Ns / ridingMass_kg,
        height_m: thrown.heightBound_m,
        range_m: thrown.rangeBound_m,
      },
      energyBoundHeight_m: energy_J / (ridingMass_kg * gravity_m_s2),
    },
  };
}
