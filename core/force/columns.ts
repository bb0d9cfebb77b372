import type { Unit } from "../units/units.ts";
import { unitNamed } from "../units/units.ts";
import {
  type HeaderCell,
  headerCell,
  type Sensitivity,
  sensitivityIn,
  unitAfterSpace,
} from "./header-cell.ts";
import { cellsOf, type Layout } from "./layout.ts";

/** What a column is taken for; a guess that a person may correct. */
export type Role = "time" | "force" | "sum" | "count" | "words" | "other";

export type ColumnHeader = {
  /** From 1, counting every column of the file. */
  readonly number: number;
  /** Header without its unit; "column 2" where the file names none. */
  readonly name: string;
  /** As written. */
  readonly header: string;
  readonly unit?: Unit;
  readonly sensitivity?: Sensitivity;
};

const timeName =
  /^(t|time|times|zeit|temps|tiempo|tempo|czas|elapsed|time ?stamp|x[- ]?axis|relative time|sekunden?|seconds?|sec)\b/i;
const sumName = /(^|[^a-z])(sum|summe|total|gesamt|resultant|net|combined|Σ)([^a-z]|$)/i;
const countName = /^(#|no\.?|nr\.?|n|i|idx|index|sample|samples|scan|scans|point|count|row|line)\s*#?$/i;

export const isTimeName = (header: ColumnHeader): boolean =>
  timeName.test(header.name.replace(/_/g, " ")) || header.unit?.quantity === "time";
export const isSumName = (header: ColumnHeader): boolean => sumName.test(header.name);
export const isCountName = (header: ColumnHeader): boolean => countName.test(header.name.trim());

/**
 * Finds the columns' names and units among the leading lines: the line may be a comment, may hold
 * other things, and the units may have a line of their own.
 * @param hints  names that the setup gives its channels: where they stand is where the names are
 */
export function findHeaders(layout: Layout, hints: readonly string[]): readonly ColumnHeader[] {
  const cells = nameCells(layout, hints);
  const units = unitCells(layout);
  const lines = layout.leading;
  const stated = onlyForceUnit(lines);
  const sensitivities = lines.flatMap((line) => {
    const found = sensitivityIn(line);
    return found === undefined ? [] : [{ line, found }];
  });
  const spaced = (cells ?? []).map((cell) => unitAfterSpace(cell)?.unit.symbol);

  return Array.from({ length: layout.columns }, (_, i) => {
    const text = cells?.[i] ?? "";
    const parsed: HeaderCell = headerCell(text);
    const last = unitAfterSpace(text);
    const isClock = last?.unit.quantity === "time" && timeName.test(last.name);
    const others = spaced.filter((symbol) => symbol === last?.unit.symbol).length;
    const shared = last !== undefined && (isClock || others > (layout.columns > 2 ? 1 : 0));
    const unit =
      parsed.unit ?? units?.[i] ?? (shared ? last.unit : undefined) ?? (i > 0 ? stated : undefined);
    const name = (parsed.unit === undefined && shared ? last.name : parsed.name) || `column ${i + 1}`;
    const own =
      parsed.sensitivity ?? sensitivities.find(({ line }) => name.length > 1 && line.includes(name))?.found;
    const sensitivity = own ?? (sensitivities.length === 1 ? sensitivities[0]!.found : undefined);
    const electrical = unit?.quantity === "voltage" || unit?.quantity === "charge";
    return {
      number: i + 1,
      name,
      header: text.trim(),
      ...(unit && { unit }),
      ...(electrical && sensitivity && { sensitivity }),
    };
  });
}

/** The best run of cells, one for each column, on any leading line. */
function nameCells(layout: Layout, hints: readonly string[]): readonly string[] | undefined {
  let best: { score: number; cells: readonly string[] } | undefined;
  const lower = hints.map((hint) => hint.toLowerCase().trim());
  for (const line of layout.leading) {
    if (unitsOf(line, layout) !== undefined) continue;
    for (const [order, cells] of splittings(line, layout).entries()) {
      for (let from = 0; from + layout.columns <= cells.length; from++) {
        const run = cells.slice(from, from + layout.columns).map((cell) => cell.trim());
        const score = nameScore(run, lower, layout.separator) - 0.01 * from - 0.001 * order;
        // Any sentence has enough words to name the columns: it takes a unit, a time or a known name to be believed.
        const isSentence =
          layout.separator !== "blanks" && run.every((cell) => !/\s/.test(cell)) && /\S\s+\S/.test(line);
        // On a tie the line nearest the rows wins, and on one line the likeliest splitting.
        if (
          score > (isSentence ? 1.2 : 0) &&
          (best === undefined || score > best.score - 0.0005 * (order === 0 ? 1 : 0))
        )
          best = { score, cells: run };
      }
    }
  }
  return best?.cells;
}

function nameScore(cells: readonly string[], hints: readonly string[], separator: string): number {
  const parsed = cells.map((cell) => headerCell(cell));
  let score = 0;
  for (const [i, cell] of cells.entries()) {
    if (cell === "") score -= 0.5;
    else if (/^[-+]?[\d.,]+$/.test(cell)) score -= 2;
    else score += cell.length <= 32 ? 0.2 : -0.5;
    if (cell.includes("=") || (cell.length > 1 && cell.includes(separator))) score -= 1;
    const header = parsed[i]!;
    if (header.unit !== undefined) score += header.unit.quantity === "frequency" ? -1 : 1;
    if (i === 0 && timeName.test(header.name)) score += 1;
    if (hints.includes(cell.toLowerCase()) || hints.includes(header.name.toLowerCase())) score += 3;
  }
  return score;
}

/** A line as cells: by the rows' separator and by others, a comment's mark and words up to a colon taken off. */
function splittings(line: string, layout: Layout): string[][] {
  const bare = line.replace(/^[\s#%;!*/]+|^'(?!.*')/, "").trim();
  if (bare === "") return [];
  const splits = [
    cellsOf(bare, layout.separator),
    ...([",", ";", "\t"] as const).map((separator) => cellsOf(bare, separator)),
    bare.split(/\t| {2,}/),
    // "time (s) north (N)": a unit in brackets belongs to the word before it.
    bare.split(/[ \t]+(?![[(])/),
    bare.split(/[ \t]+/),
  ];
  const found: string[][] = [];
  for (const cells of splits) {
    if (cells.length < layout.columns) continue;
    found.push(cells);
    // "columns: time_s": what leads up to a colon and the like is no part of the name.
    const led = cells.map(withoutLead);
    if (led.some((cell, i) => cell !== cells[i])) found.push(led);
  }
  return found;
}

const withoutLead = (cell: string) => cell.replace(/^[^:=([{]*[:=#%>;|]\s*(?=\S)/, "");

/** The units of a line that holds nothing but units, one for each column. */
function unitsOf(line: string, layout: Layout): readonly (Unit | undefined)[] | undefined {
  for (const cells of splittings(line, layout)) {
    const run = cells.slice(-layout.columns).map(withoutLead);
    const units = run.map((cell) => unitNamed(cell));
    const named = units.filter((unit) => unit !== undefined).length;
    const blank = run.filter((cell) => /^\W*$/.test(cell)).length;
    // One unit alone is as likely a name: "N" for north.
    if (named > (layout.columns > 1 ? 1 : 0) && named + blank === run.length) return units;
  }
  return undefined;
}

function unitCells(layout: Layout): readonly (Unit | undefined)[] | undefined {
  for (const line of [...layout.leading].reverse()) {
    const units = unitsOf(line, layout);
    if (units !== undefined) return units;
  }
  return undefined;
}

/** "all forces in lbf", "unit: N": one unit for every force column. */
function onlyForceUnit(lines: readonly string[]): Unit | undefined {
  for (const line of lines) {
    const match =
      /(?:\bunits?\b|\beinheit(?:en)?\b|\bforces?(?: are| is)?\s+(?:in|unit)\b)\s*[:=]?\s*[[(]?([A-Za-z-]+)/i.exec(
        line,
      );
    const unit = match === null ? undefined : unitNamed(match[1]!);
    if (unit?.quantity === "force") return unit;
  }
  return undefined;
}
