/**
 * Units as people write them, with exact factors to SI. Each is written here once, with every
 * spelling that the headers of recorders use.
 * @source NIST SP 811 (2008), appendix B: pound-mass, inch and gₙ are exact by definition
 *   (remembered; checked in tests/reference/units-factors.reference.test.ts)
 */
export type Quantity =
  | "force"
  | "time"
  | "frequency"
  | "pressure"
  | "mass"
  | "volume"
  | "length"
  | "voltage"
  | "charge";

export type Unit = {
  readonly quantity: Quantity;
  /** The spelling to show. */
  readonly symbol: string;
  /** Multiply by this for the SI unit: N, s, Hz, Pa, kg, m³, m, V, C. */
  readonly toSI: number;
};

export const standardGravity_m_s2 = 9.80665;
export const poundMass_kg = 0.45359237;
export const inch_m = 0.0254;
export const poundForce_N = poundMass_kg * standardGravity_m_s2;
export const psi_Pa = poundForce_N / inch_m ** 2;

/** Quantity, symbol, factor, then other spellings in lower case. */
const table: readonly (readonly [Quantity, string, number, string])[] = [
  ["force", "N", 1, "n newton newtons"],
  ["force", "kN", 1e3, "kn kilonewton kilonewtons"],
  ["force", "mN", 1e-3, "mn millinewton millinewtons"],
  ["force", "MN", 1e6, "meganewton meganewtons"],
  ["force", "daN", 10, "dan"],
  [
    "force",
    "lbf",
    poundForce_N,
    "lbf lbsf lb-f lb_f lb lbs pound pounds pound-force pounds-force poundforce",
  ],
  ["force", "ozf", poundForce_N / 16, "ozf ounce-force"],
  ["force", "kgf", standardGravity_m_s2, "kgf kg-f kg_f kp kilogram-force kilopond"],
  ["force", "gf", standardGravity_m_s2 / 1e3, "gf g-f g_f gram-force pond"],
  ["time", "s", 1, "s sec secs second seconds sekunde sekunden seg segundos secondes"],
  ["time", "ms", 1e-3, "ms msec msecs millisecond milliseconds millisekunden"],
  ["time", "µs", 1e-6, "us µs μs usec µsec μsec microsecond microseconds"],
  ["time", "ns", 1e-9, "ns nsec nanosecond nanoseconds"],
  ["time", "min", 60, "min mins minute minutes minuten"],
  ["time", "h", 3600, "h hr hrs hour hours"],
  ["frequency", "Hz", 1, "hz hertz 1/s s/s sps samples/s sa/s"],
  ["frequency", "kHz", 1e3, "khz kilohertz ks/s ksps ksa/s"],
  ["frequency", "MHz", 1e6, "mhz megahertz msps msa/s"],
  ["frequency", "MS/s", 1e6, ""],
  ["pressure", "Pa", 1, "pa pascal"],
  ["pressure", "hPa", 100, "hpa"],
  ["pressure", "kPa", 1e3, "kpa"],
  ["pressure", "MPa", 1e6, "mpa"],
  ["pressure", "bar", 1e5, "bar barg"],
  ["pressure", "mbar", 100, "mbar"],
  ["pressure", "psi", psi_Pa, "psi psig lbf/in2 lbf/in²"],
  ["pressure", "atm", 101_325, "atm"],
  ["mass", "kg", 1, "kg kilogram kilograms"],
  ["mass", "g", 1e-3, "g gram grams"],
  ["mass", "oz", poundMass_kg / 16, "oz ounce ounces"],
  ["volume", "m³", 1, "m3 m³"],
  ["volume", "L", 1e-3, "l litre litres liter liters dm3 dm³"],
  ["volume", "mL", 1e-6, "ml cm3 cm³ cc"],
  ["length", "m", 1, "m metre metres meter meters"],
  ["length", "mm", 1e-3, "mm"],
  ["length", "cm", 1e-2, "cm"],
  ["length", "in", inch_m, "in inch inches"],
  ["voltage", "V", 1, "v volt volts"],
  ["voltage", "mV", 1e-3, "mv millivolt millivolts"],
  ["voltage", "µV", 1e-6, "uv µv μv"],
  ["charge", "C", 1, "coulomb"],
  ["charge", "nC", 1e-9, "nc"],
  ["charge", "pC", 1e-12, "pc picocoulomb"],
];

const bySymbol = new Map<string, Unit>();
const bySpelling = new Map<string, Unit>();
for (const [quantity, symbol, toSI, words] of table) {
  const unit = { quantity, symbol, toSI };
  bySymbol.set(symbol, unit);
  for (const word of words.split(" ")) if (word !== "") bySpelling.set(word, unit);
}

/**
 * The unit that a word spells, brackets and case aside; the case decides only where it must (mN, MN).
 * @returns undefined where the word is no unit known here: the caller says so and never guesses
 */
export function unitNamed(word: string): Unit | undefined {
  const bare = word.replace(/[[({<\])}>]/g, " ").trim();
  return bySymbol.get(bare) ?? bySpelling.get(bare.toLowerCase());
}
