import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { type ColumnHeader, findHeaders, type Role } from "./columns.ts";
import { findLayout, type Layout, type LayoutWishes, rowShape } from "./layout.ts";
import { guessRoles } from "./roles.ts";
import { RowParser } from "./row-parser.ts";
import { type StatedRate, statedRate } from "./stated-rate.ts";
import { type Encoding, encodingOf, Utf16Narrower } from "./text-encoding.ts";

/** A force file as read: nothing converted, nothing repaired. */
export type ForceFile = {
  readonly encoding: Encoding;
  readonly layout: Layout;
  readonly headers: readonly ColumnHeader[];
  /** What each column is taken for; `ReduceOptions.roles` corrects it. */
  readonly roles: readonly Role[];
  /** Every column in its own unit; NaN marks a cell without a number. */
  readonly columns: readonly Float64Array[];
  readonly rows: number;
  readonly bytes: number;
  readonly statedRates: readonly StatedRate[];
  /** Line of the file, from 1, on which a row stands. */
  readonly lineOf: (row: number) => number;
  /** What was odd and did not stop the reading: cells without numbers, uneven rows, foreign lines. */
  readonly notes: readonly Issue[];
};

export type ReadOptions = LayoutWishes & {
  /** Names that the setup gives its channels; they tell which leading line holds the names. */
  readonly names?: readonly string[];
  /** Size of a streamed file, where it is known: columns are then allocated once. */
  readonly totalBytes?: number;
};

/** Enough lines to judge the layout by, few enough to keep in hand. */
const headBytes = 1 << 16;
const greatestColumns = 256;

/**
 * Reads a whole force file, or its chunks in order.
 * @returns columns as doubles with the layout, names, units and roles found
 * @fails file-empty, not-text, no-numbers, decimal-ambiguous, too-many-columns, too-few-rows
 */
export function readForceFile(
  source: Uint8Array | Iterable<Uint8Array>,
  options: ReadOptions = {},
): Result<ForceFile> {
  const whole = source instanceof Uint8Array;
  const reader = new ForceFileReader(whole ? { totalBytes: source.length, ...options } : options);
  for (const chunk of whole ? [source] : source) reader.push(chunk);
  return reader.finish();
}

/**
 * The same, for a stream: push every chunk as it comes, then finish. A caller may show `rows` as
 * progress and may stop pushing at any time; nothing is kept outside the reader.
 */
export class ForceFileReader {
  readonly #options: ReadOptions;
  #encoding: Encoding | undefined;
  #narrower: Utf16Narrower | undefined;
  /** Bytes that are not parsed yet: the head until it is judged, then the last, unfinished line. */
  #kept: Uint8Array = new Uint8Array(0);
  #parser: RowParser | undefined;
  #layout: Layout | undefined;
  #failure: Result<ForceFile> | undefined;
  #bytes = 0;

  constructor(options: ReadOptions = {}) {
    this.#options = options;
  }

  get rows(): number {
    return this.#parser?.rows ?? 0;
  }

  get bytesRead(): number {
    return this.#bytes;
  }

  push(chunk: Uint8Array): void {
    this.#bytes += chunk.length;
    if (this.#failure !== undefined || chunk.length === 0) return;
    let bytes = chunk;
    if (this.#encoding === undefined) {
      bytes = joined(this.#kept, chunk);
      if (bytes.length < 4) {
        this.#kept = bytes;
        return;
      }
      bytes = this.#start(bytes);
    } else if (this.#narrower !== undefined) bytes = this.#narrower.narrow(bytes);
    this.#take(bytes, false);
  }

  finish(): Result<ForceFile> {
    if (this.#failure === undefined) {
      let rest = this.#kept;
      this.#kept = new Uint8Array(0);
      if (this.#encoding === undefined) rest = this.#start(rest);
      this.#take(rest, true);
    }
    if (this.#failure !== undefined) return this.#failure;
    const parser = this.#parser!;
    const layout = this.#layout!;
    if (parser.rows < 2) {
      return failed(
        issue(
          "too-few-rows",
          "file",
          `the file has ${parser.rows} rows of numbers`,
          "save the whole record again",
        ),
      );
    }
    const columns = parser.columns.map((column) => column.subarray(0, parser.rows));
    const headers = findHeaders(layout, this.#options.names ?? []);
    return ok({
      encoding: this.#encoding!,
      layout,
      headers,
      roles: guessRoles(headers, columns, parser.textCellsByColumn),
      columns,
      rows: parser.rows,
      bytes: this.#bytes,
      statedRates: statedRate(layout.leading, layout.decimal === ","),
      lineOf: (row: number) => parser.lineOf(row),
      notes: notes(parser, headers),
    });
  }

  /** Judges the encoding by the first bytes and takes the byte order mark off. */
  #start(bytes: Uint8Array): Uint8Array {
    const { encoding, markLength } = encodingOf(bytes);
    this.#encoding = encoding;
    this.#kept = new Uint8Array(0);
    const text = bytes.subarray(markLength);
    if (encoding === "utf-8") return text;
    this.#narrower = new Utf16Narrower(encoding);
    return this.#narrower.narrow(text);
  }

  #take(bytes: Uint8Array, last: boolean): void {
    let at = bytes;
    if (this.#parser === undefined) {
      at = joined(this.#kept, bytes);
      this.#kept = at;
      if (at.length < headBytes && !last) return;
      if (!this.#judge(at, last)) return;
      at = at.subarray(this.#layout!.firstRowByte);
      this.#kept = new Uint8Array(0);
    }
    this.#parse(at, last);
  }

  #judge(bytes: Uint8Array, last: boolean): boolean {
    const head = bytes.subarray(0, headBytes);
    const cut =
      bytes.length > head.length || !last ? Math.max(head.lastIndexOf(10), head.lastIndexOf(13)) : -1;
    const found = findLayout(cut > 0 ? head.subarray(0, cut + 1) : head, this.#options);
    if (!found.ok) {
      this.#failure = found;
      return false;
    }
    const layout = found.value;
    if (layout.columns > greatestColumns) {
      this.#failure = failed(
        issue(
          "too-many-columns",
          `line ${layout.firstRowLine}`,
          `${layout.columns} columns`,
          `export the force channels only, ${greatestColumns} columns at most`,
        ),
      );
      return false;
    }
    const narrowed = this.#narrower === undefined ? 1 : 2;
    const total = (this.#options.totalBytes ?? bytes.length * 4) / narrowed;
    // A few per cent more than the mean line suggests; what is too much is never touched.
    const expected = Math.ceil((Math.max(total, bytes.length) / layout.bytesPerRow) * 1.03) + 64;
    this.#layout = layout;
    this.#parser = new RowParser(rowShape(layout), layout.firstRowLine, expected);
    return true;
  }

  /** Whole lines are parsed where they lie; only the line that a chunk's end cuts is copied. */
  #parse(bytes: Uint8Array, last: boolean): void {
    const parser = this.#parser!;
    const newline = this.#layout!.newline === "\r" ? 13 : 10;
    let from = 0;
    if (this.#kept.length > 0) {
      const end = bytes.indexOf(newline);
      if (end < 0 && !last) {
        this.#kept = joined(this.#kept, bytes);
        return;
      }
      from = end < 0 ? bytes.length : end + 1;
      const line = joined(this.#kept, bytes.subarray(0, from));
      this.#kept = new Uint8Array(0);
      if (end < 0) {
        this.#lastLine(line, newline);
        return;
      }
      parser.parse(line, 0, line.length);
    }
    const to = bytes.lastIndexOf(newline) + 1;
    if (to > from) parser.parse(bytes, from, to);
    const rest = bytes.subarray(Math.max(to, from));
    if (last) this.#lastLine(rest, newline);
    else this.#kept = rest.slice();
  }

  #lastLine(rest: Uint8Array, newline: number): void {
    if (rest.length > 0) {
      const line = joined(rest, Uint8Array.of(newline));
      this.#parser!.parse(line, 0, line.length);
    }
  }
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array {
  if (a.length === 0) return b;
  if (b.length === 0) return a;
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

function notes(parser: RowParser, headers: readonly ColumnHeader[]): Issue[] {
  const found: Issue[] = [];
  for (const header of headers) {
    const count = parser.textCellsByColumn[header.number - 1]!;
    // A column of words is a column of words, not a fault in each of its cells.
    if (count === 0 || count > parser.rows / 2) continue;
    const first = parser.textCells.find((cell) => cell.column === header.number);
    found.push(
      issue(
        "cell-not-a-number",
        `line ${first?.line ?? "?"}, column ${header.number}`,
        `"${first?.text ?? ""}" in "${header.name}" is no number; ${count} such ${count === 1 ? "cell" : "cells"}`,
        "the samples count as missing; look at the file there, export it again if the recorder did not write this",
      ),
    );
  }
  const odd = (
    code: string,
    count: number,
    at: { line: number; column: number } | undefined,
    what: string,
    remedy: string,
  ) => {
    if (count > 0 && at !== undefined) {
      found.push(issue(code, `line ${at.line}, column ${at.column}`, `${count} ${what}`, remedy));
    }
  };
  odd(
    "row-short",
    parser.shortCount,
    parser.shortRows[0],
    "rows have fewer cells than the others",
    "their last cells count as missing; a file that was cut off ends like this",
  );
  odd(
    "row-long",
    parser.longCount,
    parser.longRows[0],
    "rows have more cells than the others",
    "the cells beyond the last column are not read; look whether a separator stands inside a number",
  );
  odd(
    "line-not-data",
    parser.otherCount,
    parser.otherLines[0],
    `lines among the rows hold no numbers, first "${parser.otherLines[0]?.text ?? ""}"`,
    "they are not read; nothing to do if they are comments",
  );
  return found;
}
