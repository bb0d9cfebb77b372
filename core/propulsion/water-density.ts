/** Where the formula was fitted; outside it a density must be given instead of a temperature. */
export const waterTemperatureRange_C = { least: 0, greatest: 40 } as const;

/**
 * Density of air-free pure water at one atmosphere.
 * Tap water is denser by its dissolved salts, about 0.1 to 0.3 kg/m3, and three bars more press it
 * together by 0.14 kg/m3; both are far below what a kitchen scale adds.
 * @param temperature_C  0 to 40, ITS-90
 * @returns kg/m3
 * @source Tanaka, Girard, Davis, Peuto, Bignell, Metrologia 38 (2001) 301, eq. (1), table 1;
 *   coefficients remembered, checked against the table of PHYSICS.md (tests/reference)
 */
export function waterDensity_kg_m3(temperature_C: number): number {
  const a1_C = -3.983035;
  const a2_C = 301.797;
  const a3_C2 = 522528.9;
  const a4_C = 69.34881;
  const a5_kg_m3 = 999.97495;
  const t = temperature_C;
  return a5_kg_m3 * (1 - ((t + a1_C) ** 2 * (t + a2_C)) / (a3_C2 * (t + a4_C)));
}
