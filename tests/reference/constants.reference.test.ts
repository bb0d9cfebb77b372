import { expect, test } from "vitest";
import { airGasConstant_J_kgK } from "../../core/propulsion/constants.ts";

/**
 * CODATA 2018: R = 8.314462618 J/(mol K), exact but for digits beyond (read in PHYSICS.md section 12); it is
 * the product of two exact constants of the SI, k = 1.380649e-23 J/K and N_A = 6.02214076e23 1/mol (remembered).
 * Molar mass of dry air in the standard atmosphere, 28.964420 g/mol, and its own R of 1962,
 * 8314.32 J/(kmol K): ISO 2533:1975, remembered.
 */
const molar_J_molK = 8.314462618;
const airMolarMass_kg_mol = 28.96442e-3;

test("the molar gas constant is the product of Boltzmann's and Avogadro's", () => {
  expect(Math.abs(1.380649e-23 * 6.02214076e23 - molar_J_molK)).toBeLessThan(5e-10);
});

test("the gas constant of air is the standard atmosphere's, to its last digit", () => {
  expect(airGasConstant_J_kgK).toBeCloseTo(8.31432 / airMolarMass_kg_mol, 5);
});

test("it differs from CODATA's R over the same molar mass by under 2e-5: no budget sees that", () => {
  const difference = molar_J_molK / airMolarMass_kg_mol / airGasConstant_J_kgK - 1;
  expect(difference).toBeGreaterThan(1e-5);
  expect(difference).toBeLessThan(2e-5);
});
