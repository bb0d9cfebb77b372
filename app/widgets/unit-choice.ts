import { unitNamed } from "../../core/units/units.ts";
import { shortNumber } from "../../core/units/value-text.ts";
import type { FieldUnit } from "./quantity-field.tsx";

/** The reader's own units, one for each kind of quantity; the first of each list is the default. */
export const unitLists = {
  pressure: ["bar", "psi", "kPa"],
  water: ["g", "mL", "kg", "L"],
  volume: ["mL", "L"],
  length: ["mm", "in"],
  mass: ["kg", "g"],
  air: ["hPa", "kPa", "mbar"],
  temperature: ["°C"],
  ratio: [""],
  time: ["s"],
} as const;

export type UnitKind = keyof typeof unitLists;
export type UnitChoice = { readonly [K in UnitKind]: string };

export const usualUnits = Object.fromEntries(
  Object.entries(unitLists).map(([kind, [first]]) => [kind, first]),
) as UnitChoice;

/** Reads a stored choice; what it does not know it leaves at the default. */
export function readUnitChoice(stored: string | undefined): UnitChoice {
  const chosen: Record<string, string> = { ...usualUnits };
  for (const pair of (stored ?? "").split(";")) {
    const [kind, symbol] = pair.split("=");
    if (kind === undefined || symbol === undefined || !(kind in unitLists)) continue;
    if ((unitLists[kind as UnitKind] as readonly string[]).includes(symbol)) chosen[kind] = symbol;
  }
  return chosen as UnitChoice;
}

export const unitChoiceText = (choice: UnitChoice): string =>
  Object.entries(choice)
    .map(([kind, symbol]) => `${kind}=${symbol}`)
    .join(";");

/** Water is weighed or measured out: its volume counts through the density it has. */
export function unitsOf(kind: UnitKind, waterDensity_kg_m3: number): readonly FieldUnit[] {
  return unitLists[kind].map((symbol) => ({ symbol, toSI: toSI(kind, symbol, waterDensity_kg_m3) }));
}

function toSI(kind: UnitKind, symbol: string, waterDensity_kg_m3: number): number {
  const unit = unitNamed(symbol);
  if (unit === undefined) return 1;
  return kind === "water" && unit.quantity === "volume" ? unit.toSI * waterDensity_kg_m3 : unit.toSI;
}

/** "3.1 bar": a value that was set, in the reader's unit. */
export function inUnit(value: number, kind: UnitKind, choice: UnitChoice, waterDensity_kg_m3 = 1000): string {
  const symbol = choice[kind];
  return `${shortNumber(value / toSI(kind, symbol, waterDensity_kg_m3), 4)} ${symbol}`.trim();
}

export const unitScale = (kind: UnitKind, choice: UnitChoice, waterDensity_kg_m3 = 1000): number =>
  toSI(kind, choice[kind], waterDensity_kg_m3);
