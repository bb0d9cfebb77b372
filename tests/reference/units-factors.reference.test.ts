import { describe, expect, test } from "vitest";
import {
  inch_m,
  poundForce_N,
  poundMass_kg,
  psi_Pa,
  standardGravity_m_s2,
  unitNamed,
} from "../../core/units/units.ts";

/**
 * Source: NIST SP 811 (2008), appendix B.8; the values are remembered, and those of the brief's table 12
 * agree with them. Exact factors are compared to the last digit of a double, rounded ones to theirs.
 */
describe("NIST SP 811", () => {
  test.each([
    ["standard acceleration of free fall, m/s2, exact", standardGravity_m_s2, 9.80665],
    ["pound, avoirdupois, kg, exact", poundMass_kg, 0.45359237],
    ["inch, m, exact", inch_m, 0.0254],
  ])("%s", (_name, ours, theirs) => expect(ours).toBe(theirs));

  test.each([
    ["pound-force, N, exact product", poundForce_N, 4.4482216152605, 1e-13],
    ["pound-force per square inch, Pa, seven digits", psi_Pa, 6894.757, 5e-4],
    ["kilogram-force, N", unitNamed("kgf")!.toSI, 9.80665, 0],
    ["ounce (avoirdupois)-force, N, seven digits", unitNamed("ozf")!.toSI, 0.2780139, 5e-8],
    ["kilopond, N", unitNamed("kp")!.toSI, 9.80665, 0],
    ["atmosphere, standard, Pa", unitNamed("atm")!.toSI, 101_325, 0],
    ["bar, Pa", unitNamed("bar")!.toSI, 1e5, 0],
    ["litre, m3", unitNamed("L")!.toSI, 1e-3, 0],
    ["ounce (avoirdupois), kg, seven digits", unitNamed("oz")!.toSI, 0.02834952, 5e-9],
  ])("%s", (_name, ours, theirs, slack) => {
    expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(slack);
  });
});
