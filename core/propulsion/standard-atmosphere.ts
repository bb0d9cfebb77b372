import { assert } from "../assert.ts";
import { airGasConstant_J_kgK, standardGravity_m_s2 } from "./constants.ts";

/** ISO 2533:1975: sea level, and the fall of temperature up to 11 km. */
const seaLevel_Pa = 101_325;
const seaLevel_K = 288.15;
const lapse_K_m = 0.0065;

/**
 * Pressure of the standard atmosphere, for a site without a barometer: the weather moves the true
 * one by about one per cent.
 * @param altitude_m  geopotential, -500 to 11 000
 * @source ISO 2533:1975, barometric formula of the layer with constant lapse rate; checked in tests/reference/prediction-air.reference.test.ts
 */
export function standardPressure_Pa(altitude_m: number): number {
  assert(altitude_m >= -500 && altitude_m <= 11_000, "altitude outside the lowest layer of the atmosphere");
  const exponent = standardGravity_m_s2 / (airGasConstant_J_kgK * lapse_K_m);
  return seaLevel_Pa * (1 - (lapse_K_m * altitude_m) / seaLevel_K) ** exponent;
}
