import { unitNamed } from "../units/units.ts";

export type StatedRate = { readonly rate_Hz: number; readonly line: number };

/** The word itself or as the end of a compound, not inside "calibrated" or "generator". */
const says = /(?:\b|_|sample|sampling|abtast|scan|frame|data|mess)rate(?![a-z])|sampling/gi;
/** A frequency after one of these is a filter's or a mode's, never how often the recorder sampled. */
const otherFrequency =
  /filter|corner|cut-?off|low-?pass|high-?pass|alias|band|resonan|natural|mains|hum|ring/i;
const number = String.raw`[-+]?\d[\d.,' ]*(?:[eE][-+]?\d+)?`;
const unit = String.raw`[kM]?Hz|[kM]?S(?:a|amples)?\/s(?:ec)?|[kM]?sps`;
const numberThenUnit = new RegExp(`(${number})\\s*[[(]?\\s*(${unit})(?![A-Za-z])`, "i");
const unitThenNumber = new RegExp(`(?:^|[^A-Za-z])(${unit})\\s*[\\])]?[\\s:=,;|"_]*(${number})`, "i");

/**
 * The sampling rate that a leading line states: it says rate or sampling, with a number and Hz, kHz or S/s.
 * @param decimalComma  whether the rows write decimals with a comma, which settles what `1,652` means
 */
export function statedRate(lines: readonly string[], decimalComma: boolean): readonly StatedRate[] {
  const found: StatedRate[] = [];
  for (const [i, line] of lines.entries()) {
    const rate_Hz = rateIn(line, decimalComma);
    if (rate_Hz !== undefined) found.push({ rate_Hz, line: i + 1 });
  }
  return found;
}

function rateIn(line: string, decimalComma: boolean): number | undefined {
  for (const word of line.matchAll(says)) {
    const after = line.slice(word.index + word[0].length).split(otherFrequency)[0]!;
    const direct = numberThenUnit.exec(after);
    const reversed = unitThenNumber.exec(after);
    const unitFirst = reversed !== null && (direct === null || reversed.index < direct.index);
    if (unitFirst) return inHertz(reversed[2]!, reversed[1]!, decimalComma);
    if (direct !== null) return inHertz(direct[1]!, direct[2]!, decimalComma);
    // "4000 Hz sampling": the number stands before the word, in the same clause.
    const clause = line.slice(0, word.index).split(/;|,\s/).at(-1)!;
    const before = otherFrequency.test(clause) ? null : numberThenUnit.exec(clause);
    if (before !== null) return inHertz(before[1]!, before[2]!, decimalComma);
  }
  return undefined;
}

/** A comma or point before exactly three digits may group thousands: the reading a recorder can have wins. */
function inHertz(digits: string, unitText: string, decimalComma: boolean): number | undefined {
  const named = unitNamed(unitText.replace(/sec$/i, "s"));
  const factor = named?.quantity === "frequency" ? named.toSI : undefined;
  if (factor === undefined) return undefined;
  const bare = digits.replace(/[\s']/g, "").replace(/[.,]$/, "");
  const asDecimal = Number(bare.replace(",", "."));
  const grouped = /^\d{1,3}([.,]\d{3})+$/.test(bare) ? Number(bare.replace(/[.,]/g, "")) : Number.NaN;
  const mayGroup = bare.includes(decimalComma ? "." : ",");
  const readings = mayGroup ? [grouped, asDecimal] : [asDecimal, grouped];
  const usual = readings.find((x) => x * factor >= 50 && x * factor <= 1e6);
  const rate = (usual ?? asDecimal) * factor;
  return Number.isFinite(rate) && rate > 0 ? rate : undefined;
}
