import { type Unit, unitNamed } from "../units/units.ts";

/** Electrical units for each newton: what turns a charge or a voltage back into a force. */
export type Sensitivity = {
  readonly perNewton_SI: number;
  /** As written, for the reader. */
  readonly text: string;
};

export type HeaderCell = {
  /** The header without its unit; empty where the cell is nothing but a unit. */
  readonly name: string;
  readonly unit?: Unit;
  readonly sensitivity?: Sensitivity;
};

/**
 * Takes a column's header apart: `north (N)`, `north [N]`, `north_N`, `north / N`, `Force, lbf`,
 * `north mV, 112.4 mV/N`. A single letter after a plain space (`Cell N`) may be a place on the stand
 * and is left in the name; see `unitAfterSpace`.
 */
export function headerCell(text: string): HeaderCell {
  const trimmed = text
    .trim()
    .replace(/^"(.*)"$/, "$1")
    .trim();
  const sensitivity = sensitivityIn(trimmed);
  const rest = sensitivity === undefined ? trimmed : trimmed.replace(sensitivity.text, " ").trim();
  const found = bracketed(rest) ?? suffixed(rest);
  const name = (found?.name ?? rest).replace(/[\s,;:/=@-]+$/, "").trim();
  return {
    name,
    ...(found && { unit: found.unit }),
    ...(sensitivity && { sensitivity }),
  };
}

/** The unit that follows a plain space at the end: `Force N`. */
export function unitAfterSpace(text: string): { name: string; unit: Unit } | undefined {
  const match = /^(.*\S)\s+(\S+)$/.exec(text.trim());
  const unit = match?.[2] === undefined ? undefined : exactly(match[2]);
  return unit === undefined ? undefined : { name: match![1]!, unit };
}

function bracketed(text: string) {
  for (const match of text.matchAll(/[[({<]\s*([^\])}>]*?)\s*[\])}>]/g)) {
    const inner = match[1]!.split(/[\s,;]+/);
    const unit = unitNamed(match[1]!) ?? unitNamed(inner[0]!) ?? unitNamed(inner.at(-1)!);
    if (unit === undefined) continue;
    const around = `${text.slice(0, match.index)} ${text.slice(match.index + match[0].length)}`;
    return { name: around.replace(/\s+/g, " ").trim(), unit };
  }
  return undefined;
}

function suffixed(text: string) {
  const joined = /^(.*?)\s*(?:_|\/|,|:|\bin\b)\s*([^\s_,:]+)$/i.exec(text);
  if (joined !== null) {
    const unit = exactly(joined[2]!);
    if (unit !== undefined) return { name: joined[1]!.trim(), unit };
  }
  const spaced = unitAfterSpace(text);
  return spaced !== undefined && spaced.unit.symbol.length > 1 ? spaced : undefined;
}

/** Without brackets a single letter counts only in its own case: `_N` is newton, `_n` a name. */
function exactly(word: string): Unit | undefined {
  const unit = unitNamed(word);
  return unit !== undefined && (word.length > 1 || unit.symbol === word) ? unit : undefined;
}

const perForce =
  /(\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?)\s*((?:[mµμu]?V|[pn]?C)\s*\/\s*(?:k?N|lbf?|kgf))(?![A-Za-z])/;

/** A number with an electrical unit per force: `112.4 mV/N`, `43,2 pC/N`. */
export function sensitivityIn(text: string): Sensitivity | undefined {
  const match = perForce.exec(text);
  if (match === null) return undefined;
  const [over, under] = match[2]!.split("/").map((part) => unitNamed(part));
  const value = Number(match[1]!.replace(",", "."));
  if (over === undefined || under === undefined || !(value > 0)) return undefined;
  return { perNewton_SI: (value * over.toSI) / under.toSI, text: match[0] };
}
