import { assert } from "../assert.ts";
import { decodeText } from "./text-encoding.ts";

/** Character codes that shape the rows. */
export type RowShape = {
  readonly columns: number;
  readonly separator: number;
  /** True where any run of blanks and tabs is one separator. */
  readonly blanks: boolean;
  readonly decimal: number;
  readonly newline: number;
};

/** A cell or line that was not what a row should hold, by its place in the file. */
export type Oddity = { readonly line: number; readonly column: number; readonly text: string };

const space = 32;
const tab = 9;
const quote = 34;
const minus = 45;
const plus = 43;
const zero = 48;
const lineFeed = 10;
const carriageReturn = 13;
const placesKept = 5;

/** Powers of ten that a double holds exactly; a mantissa below 2^53 over one of them rounds once, so correctly. */
const exactPower = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
/** Nine digits always fit 31 bits, where V8 keeps an integer in a register. */
const digitsOfInt = 9;
const digitsExact = 15;

/**
 * Turns whole lines of bytes into columns of doubles without making a string of any good cell.
 * A cell without a number is NaN in its column, counted, and the first few are kept with line and column.
 */
export class RowParser {
  readonly #shape: RowShape;
  columns: Float64Array[];
  rows = 0;
  /** Cells that hold words; the first few by place, all by count. */
  readonly textCells: Oddity[] = [];
  readonly textCellsByColumn: number[];
  readonly shortRows: Oddity[] = [];
  readonly longRows: Oddity[] = [];
  readonly otherLines: Oddity[] = [];
  shortCount = 0;
  longCount = 0;
  otherCount = 0;
  readonly #firstLine: number;
  #line: number;
  /** For each line that gave no row: how many rows stood before it. */
  readonly #skipped: number[] = [];
  /** Cells of the row at hand that gave no number. */
  #bad = 0;
  #rowText: Oddity[] = [];

  constructor(shape: RowShape, firstLine: number, expectedRows: number) {
    this.#shape = shape;
    this.#firstLine = firstLine;
    this.#line = firstLine;
    this.columns = Array.from({ length: shape.columns }, () => new Float64Array(expectedRows));
    this.textCellsByColumn = new Array<number>(shape.columns).fill(0);
  }

  /** The line of the file, from 1, on which a row stands. */
  lineOf(row: number): number {
    let low = 0;
    let high = this.#skipped.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#skipped[middle]! <= row) low = middle + 1;
      else high = middle;
    }
    return this.#firstLine + row + low;
  }

  /**
   * Reads bytes[from, to), which must end with a newline: the newline is what stops every inner loop.
   * The single pass over digits and decimal mark is what makes the reader fast; keep it free of calls.
   */
  parse(bytes: Uint8Array, from: number, to: number): void {
    assert(from === to || bytes[to - 1] === this.#shape.newline, "rows are parsed by whole lines");
    const { separator, decimal, newline, blanks, columns: count } = this.#shape;
    const last = count - 1;
    let i = from | 0;
    while (i < to) {
      if (this.rows === this.columns[0]!.length) this.#grow();
      const row = this.rows;
      const columns = this.columns;
      const rowStart = i;
      let k = 0;
      let c = 0;
      for (; k < count; k++) {
        c = bytes[i]!;
        while (c === space || c === quote || c === plus || (blanks && c === tab)) c = bytes[++i]!;
        const cellStart = i;
        const negative = c === minus;
        i = (i + 1) | 0;
        if (negative) {
          c = bytes[i]!;
          i = (i + 1) | 0;
        }
        const digitsStart = i;
        let mantissa = 0;
        let mark = 0;
        for (;;) {
          const digit = (c - zero) | 0;
          if (digit >>> 0 <= 9) mantissa = (Math.imul(mantissa, 10) + digit) | 0;
          else if (c === decimal && mark === 0) mark = i;
          else break;
          c = bytes[i]!;
          i = (i + 1) | 0;
        }
        const digits = i - digitsStart - (mark > 0 ? 1 : 0);
        if (c === carriageReturn && newline === lineFeed) {
          c = bytes[i]!;
          i = (i + 1) | 0;
        }
        const ends = c === separator || c === newline || (blanks && c === tab);
        if (ends && digits > 0 && digits <= digitsOfInt) {
          const value = mark > 0 ? mantissa / exactPower[digits - mark + digitsStart]! : mantissa;
          columns[k]![row] = negative ? -value : value;
        } else {
          i = this.#slowCell(bytes, cellStart, k);
          c = bytes[i - 1]!;
        }
        if (c === newline) break;
      }
      if (k === last && c === newline && this.#bad === 0) this.rows = row + 1;
      else i = this.#endOddRow(bytes, rowStart, i, Math.min(k, last) + 1, c === newline);
      this.#line++;
    }
  }

  /** Exponents, many digits, clock times, words: everything that is rare. @returns the index after the cell */
  #slowCell(bytes: Uint8Array, start: number, k: number): number {
    const { separator, newline, blanks } = this.#shape;
    let end = start;
    let c = bytes[end]!;
    while (c !== separator && c !== newline && !(blanks && c === tab)) c = bytes[++end]!;
    const row = this.rows;
    const column = this.columns[k]!;
    const fast = this.#longNumber(bytes, start, end);
    if (!Number.isNaN(fast)) column[row] = fast;
    else {
      const text = decodeText(bytes.subarray(start, Math.min(end, start + 64))).trim();
      const value = end - start > 64 ? Number.NaN : cellValue(text, this.#shape.decimal);
      column[row] = value;
      if (!Number.isFinite(value)) {
        column[row] = Number.NaN;
        this.#bad++;
        if (!isEmptyCell(text))
          this.#rowText.push({ line: this.#line, column: k + 1, text: text.slice(0, 24) });
      }
    }
    return end + 1;
  }

  /** Up to 15 digits and an exponent, still without a string; NaN where the cell is anything else. */
  #longNumber(bytes: Uint8Array, start: number, end: number): number {
    const { decimal } = this.#shape;
    let i = start;
    const negative = bytes[i] === minus;
    if (negative) i++;
    let mantissa = 0;
    let digits = 0;
    let scale = 0;
    let marked = false;
    for (; i < end; i++) {
      const c = bytes[i]!;
      if (c >= zero && c <= 57) {
        mantissa = mantissa * 10 + (c - zero);
        if (mantissa > 0) digits++;
        if (marked) scale++;
      } else if (c === decimal && !marked) marked = true;
      else break;
    }
    if (i === start + (negative ? 1 : 0) + (marked ? 1 : 0) || digits > digitsExact) return Number.NaN;
    let exponent = 0;
    if (i < end && (bytes[i]! | 32) === 101) {
      i++;
      const below = bytes[i] === minus;
      if (below || bytes[i] === plus) i++;
      const exponentStart = i;
      for (; i < end && bytes[i]! >= zero && bytes[i]! <= 57; i++)
        exponent = exponent * 10 + (bytes[i]! - zero);
      if (i === exponentStart || i - exponentStart > 3) return Number.NaN;
      if (below) exponent = -exponent;
    }
    while (i < end && (bytes[i] === space || bytes[i] === quote || bytes[i] === carriageReturn)) i++;
    exponent -= scale;
    if (i !== end || Math.abs(exponent) > 22) return Number.NaN;
    const value = exponent < 0 ? mantissa / exactPower[-exponent]! : mantissa * exactPower[exponent]!;
    return negative ? -value : value;
  }

  /**
   * Ends a line that is not simply a row of numbers: cells without a number, too few or too many of them, none.
   * @param cells  how many were read
   * @param ended  whether the newline was reached
   * @returns the index after the newline
   */
  #endOddRow(bytes: Uint8Array, rowStart: number, i: number, cells: number, ended: boolean): number {
    const { newline, columns: count } = this.#shape;
    let end = i - 1;
    if (!ended) {
      end = i;
      while (bytes[end] !== newline) end++;
    }
    const text = this.#rowText;
    const isRow = this.#bad < cells;
    this.#bad = 0;
    this.#rowText = [];
    if (!isRow) {
      this.#skipped.push(this.rows);
      if (isBlank(bytes, rowStart, end)) return end + 1;
      this.otherCount++;
      const words = decodeText(bytes.subarray(rowStart, Math.min(end, rowStart + 64))).trim();
      if (this.otherLines.length < placesKept)
        this.otherLines.push({ line: this.#line, column: 1, text: words });
      return end + 1;
    }
    for (const cell of text) {
      this.textCellsByColumn[cell.column - 1] = this.textCellsByColumn[cell.column - 1]! + 1;
      if (this.textCells.length < placesKept * count) this.textCells.push(cell);
    }
    if (ended && cells < count) {
      this.shortCount++;
      if (this.shortRows.length < placesKept)
        this.shortRows.push({ line: this.#line, column: cells + 1, text: "" });
      for (let rest = cells; rest < count; rest++) this.columns[rest]![this.rows] = Number.NaN;
    }
    if (!ended && !isBlank(bytes, i, end)) {
      this.longCount++;
      if (this.longRows.length < placesKept)
        this.longRows.push({ line: this.#line, column: count + 1, text: "" });
    }
    this.rows++;
    return end + 1;
  }

  #grow() {
    this.columns = this.columns.map((old) => {
      const grown = new Float64Array(Math.ceil(old.length * 1.5) + 1024);
      grown.set(old);
      return grown;
    });
  }
}

function isBlank(bytes: Uint8Array, start: number, end: number): boolean {
  for (let i = start; i < end; i++) {
    const c = bytes[i]!;
    if (
      c !== space &&
      c !== tab &&
      c !== lineFeed &&
      c !== carriageReturn &&
      c !== quote &&
      c !== 44 &&
      c !== 59
    ) {
      return false;
    }
  }
  return true;
}

const emptyCell =
  /^(|-+|\.|\?|nan|na|n\/a|#n\/a|#num!|null|none|nil|inf|infinity|[-+]inf(inity)?|ovf|over|overflow|overrange|ol|1\.#\w+)$/i;

/** Words by which recorders say "no value here". */
export const isEmptyCell = (text: string): boolean => emptyCell.test(text);

/** Value of one cell from its text: any decimal number, or a clock time in seconds of the day; else NaN. */
export function cellValue(text: string, decimal: number): number {
  const plain = text.replace(/^"|"$/g, "").trim().replace("−", "-");
  const pointed = decimal === 44 ? plain.replace(",", ".") : plain;
  if (/^[-+]?(\d+\.?\d*|\.\d+)([eEdD][-+]?\d+)?$/.test(pointed)) return Number(pointed.replace(/[dD]/, "e"));
  const clock = /^(?:\d{4}-\d\d-\d\d[T ]|\d\d?[./]\d\d?[./]\d{4} )?(\d\d?):(\d\d):(\d\d(?:\.\d*)?)Z?$/.exec(
    pointed,
  );
  if (clock === null) return Number.NaN;
  return Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3]);
}
