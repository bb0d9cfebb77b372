import { describe, expect, test } from "vitest";
import { unitNamed } from "../../../core/units/units.ts";

describe("a unit", () => {
  test.each([
    ["N", "N"],
    ["newton", "N"],
    ["[N]", "N"],
    ["(kN)", "kN"],
    ["KN", "kN"],
    ["mN", "mN"],
    ["MN", "MN"],
    ["lbs", "lbf"],
    ["pounds", "lbf"],
    ["kp", "kgf"],
    ["µs", "µs"],
    ["us", "µs"],
    ["μs", "µs"],
    ["msec", "ms"],
    ["Minuten", "min"],
    ["kS/s", "kHz"],
    ["psi", "psi"],
    ["mL", "mL"],
    ["dm³", "L"],
  ])("%s is %s", (word, symbol) => expect(unitNamed(word)?.symbol).toBe(symbol));

  test.each(["", "stone", "north", "x", "N s", "kNm"])("%j is none, and no guess is made", (word) => {
    expect(unitNamed(word)).toBeUndefined();
  });

  test("keeps apart what only its case tells", () => {
    expect([unitNamed("mN")?.toSI, unitNamed("MN")?.toSI]).toEqual([1e-3, 1e6]);
    expect([unitNamed("ms")?.quantity, unitNamed("MS/s")?.quantity]).toEqual(["time", "frequency"]);
  });
});
