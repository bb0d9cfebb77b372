import { airTemperatureRange_C } from "../propulsion/polytropic-prior.ts";
import { waterTemperatureRange_C } from "../propulsion/water-density.ts";

/**
 * The numbers a setup may hold: what each one is, and the range outside of which it is a slip
 * (another unit, another sign, a decimal place), never a choice. The ranges are wide on purpose:
 * limits for safety are the rig owner's and live in the rig, not here.
 */
export type NumberKey = {
  /** Name of the quantity and its unit, as a reader would say it. */
  readonly what: string;
  readonly least: number;
  readonly greatest: number;
  readonly required?: true;
  readonly default?: number;
  /** What to write instead, for the slips that are made most. */
  readonly remedy: string;
};

const pascal = "give pascals: 1 bar is 100000, 1 psi is 6894.757, 1 kPa is 1000";
const metre = "give metres: 21.7 mm is 0.0217";

export const shotNumbers = {
  water_kg: {
    what: "water loaded, kg",
    least: 0,
    greatest: 200,
    required: true,
    remedy: "give kilograms: 700 g is 0.7",
  },
  setPressure_Pa: {
    what: "set pressure above the surroundings (gauge), Pa",
    least: 2000,
    greatest: 5e6,
    required: true,
    remedy: pascal,
  },
  bottleVolume_m3: {
    what: "capacity of the bottle to the exit plane, m3",
    least: 1e-5,
    greatest: 0.2,
    required: true,
    remedy: "give cubic metres: 1.5 L is 0.0015",
  },
  openingDiameter_m: {
    what: "diameter of the opening, m",
    least: 5e-4,
    greatest: 0.3,
    required: true,
    remedy: metre,
  },
  bottleDiameter_m: { what: "inside diameter of the bottle, m", least: 0.005, greatest: 2, remedy: metre },
  neckLength_m: { what: "length of the neck, m", least: 0, greatest: 1, remedy: metre },
  neckDiameter_m: { what: "diameter of the neck, m", least: 5e-4, greatest: 2, remedy: metre },
  ambientPressure_Pa: {
    what: "pressure of the surroundings (absolute, at the stand, not reduced to sea level), Pa",
    least: 2000,
    greatest: 150_000,
    default: 101_325,
    remedy: "give pascals: 1013.25 hPa is 101325",
  },
  waterDensity_kg_m3: {
    what: "density of the water, kg/m3",
    least: 900,
    greatest: 1300,
    remedy: "give kg/m3: 0.998 g/mL is 998",
  },
  waterTemperature_C: {
    what: "temperature of the water, °C",
    least: waterTemperatureRange_C.least,
    greatest: waterTemperatureRange_C.greatest,
    default: 20,
    remedy: "give degrees Celsius; the density formula holds from 0 to 40, beyond it give waterDensity_kg_m3",
  },
  airTemperature_C: {
    what: "temperature of the air in the bottle at release, °C",
    least: airTemperatureRange_C.least,
    greatest: airTemperatureRange_C.greatest,
    default: 20,
    remedy: "give degrees Celsius: 293.15 K is 20",
  },
  polytropicExponent: {
    what: "polytropic exponent of the air",
    least: 1,
    greatest: 1.4,
    remedy: "1 is isothermal and 1.4 adiabatic; leave it out for the prior from the air temperature",
  },
  contraction: {
    what: "contraction coefficient of the jet (jet area over opening area)",
    least: 0.4,
    greatest: 1,
    default: 1,
    remedy: "a rounded opening has 1, a sharp edge about 0.61, an inward pipe 0.5",
  },
  velocityCoefficient: {
    what: "velocity coefficient of the jet",
    least: 0.5,
    greatest: 1,
    default: 1,
    remedy: "1 is no loss, a smooth opening has 0.95 to 0.99",
  },
  gravity_m_s2: {
    what: "local gravity, m/s2",
    least: 0.1,
    greatest: 30,
    default: 9.80665,
    remedy: "9.78 at the equator to 9.83 at the poles",
  },
  ridingMass_kg: {
    what: "mass that flies if nothing holds, bottle included, kg",
    least: 0.005,
    greatest: 1000,
    remedy: "give kilograms, without the water",
  },
} as const satisfies Record<string, NumberKey>;

export const recordNumbers = {
  sampleRate_Hz: {
    what: "samples each second and channel, Hz",
    least: 1,
    greatest: 1e8,
    remedy: "give hertz: 4 kS/s is 4000",
  },
} as const satisfies Record<string, NumberKey>;

export const channelNumbers = {
  dischargeTime_s: {
    what: "discharge time constant of the channel, s",
    least: 1e-3,
    greatest: 1e6,
    remedy:
      'give seconds, or "fit" to find it in the tail, or "none" for a channel that holds a steady force',
  },
  dischargeTimeRelU: {
    what: "relative standard uncertainty of the discharge time",
    least: 0,
    greatest: 1,
    default: 0.005,
    remedy: "give a fraction: 0.5 % is 0.005",
  },
  sensitivityRelU: {
    what: "relative standard uncertainty of the sensitivity",
    least: 0,
    greatest: 1,
    default: 0.01,
    remedy: "give a fraction: 1 % is 0.01",
  },
} as const satisfies Record<string, NumberKey>;
