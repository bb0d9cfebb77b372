import type { Arc } from "./burn-arcs.ts";
import { flightOf, type Rider } from "./flight.ts";

/** What a burn does to the mass that rides on it when nothing holds. Estimates, never limits. */
export type Throw = {
  /** Upwards, at the end of thrust; negative where it is already falling, 0 where it stands. */
  readonly speed_m_s: number;
  /** Greatest height, straight up, without drag. */
  readonly height_m: number;
  /** (I/M)²/2g: all the impulse at once, no weight lost to the water; never below `height_m`. For exclusion. */
  readonly heightBound_m: number;
  /** Twice that, (I/M)²/g: the same impulse at 45°. For exclusion. */
  readonly rangeBound_m: number;
};

export type ThrowInputs = Rider & { readonly impulse_Ns: number };

/**
 * Straight up from the stand with every restraint open: dv/dt = T/(M + m) - g, from the moment the
 * thrust exceeds the weight. The thrust is that of the bottle at rest.
 * @param arcs  the burn in order of time
 * @source docs/model.md#throw; checked in tests/reference/prediction-throw.reference.test.ts
 */
export function throwOf(arcs: readonly Arc[], inputs: ThrowInputs): Throw {
  const boundSpeed_m_s = inputs.impulse_Ns / inputs.ridingMass_kg;
  const flight = flightOf(arcs, inputs);
  const coast_m = flight.speed_m_s > 0 ? flight.speed_m_s ** 2 / (2 * inputs.gravity_m_s2) : 0;
  const height_m = Math.max(flight.greatest_m, flight.height_m + coast_m);
  // Water that stays has lent its momentum for a while: a heavy stand may hop higher than I/M allows.
  const heightBound_m = Math.max(height_m, boundSpeed_m_s ** 2 / (2 * inputs.gravity_m_s2));
  return { speed_m_s: flight.speed_m_s, height_m, heightBound_m, rangeBound_m: 2 * heightBound_m };
}
