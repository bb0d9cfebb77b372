import { failed, issue, ok, type Result } from "../result.ts";
import type { RowShape } from "./row-parser.ts";
import { cellValue, isEmptyCell } from "./row-parser.ts";
import { decodeText } from "./text-encoding.ts";

export type Separator = "," | ";" | "\t" | "|" | "blanks";
export type Decimal = "." | ",";

/** How the file is laid out: found from its first lines, and correctable. */
export type Layout = {
  readonly separator: Separator;
  readonly decimal: Decimal;
  readonly newline: "\n" | "\r\n" | "\r";
  readonly columns: number;
  /** The lines above the first row of numbers, as written. */
  readonly leading: readonly string[];
  /** Where the first row stands: byte offset into the head, and line from 1. */
  readonly firstRowByte: number;
  readonly firstRowLine: number;
  readonly bytesPerRow: number;
};

export type LayoutWishes = { readonly separator?: Separator; readonly decimal?: Decimal };

const separators: readonly Separator[] = ["\t", ";", "|", ",", "blanks"];
const decimals: readonly Decimal[] = [".", ","];
const linesJudged = 60;

/**
 * Finds separator, decimal mark and the first row of numbers.
 * @param head  the first bytes of the file, in which every ASCII character is one byte
 * @fails file-empty, not-text, no-numbers, decimal-ambiguous
 */
export function findLayout(head: Uint8Array, wishes: LayoutWishes = {}): Result<Layout> {
  if (head.length === 0) {
    return failed(issue("file-empty", "file", "the file has no bytes", "save the record again"));
  }
  if (isBinary(head)) {
    return failed(
      issue(
        "not-text",
        "file",
        "the file holds bytes that no text has: a picture, a workbook or a packed file",
        "export the record from the recorder as text: CSV, TSV or plain columns",
      ),
    );
  }
  const newline = newlineOf(head);
  const lines = splitLines(head, newline === "\r" ? 13 : 10);
  const judged = lines.filter((line) => !line.blank);
  const body = judged.slice(Math.floor(judged.length / 2)).slice(-linesJudged);
  const [best, second] = candidates(
    body.map((line) => line.text),
    wishes,
  );
  if (best === undefined || best.share < 0.5) {
    return failed(
      issue(
        "no-numbers",
        body[0] === undefined ? "file" : `line ${body[0].line}`,
        "no separator and decimal mark make columns of numbers of these lines",
        "export the record as text with one row for each moment, numbers only below the headers",
      ),
    );
  }
  if (best.zeroLed > 0.02 && (second === undefined || second.share < 0.5)) {
    return failed(
      issue(
        "decimal-ambiguous",
        `line ${body[0]!.line}`,
        "the comma seems to be both the decimal mark and the separator",
        "export with a semicolon or a tab between the columns, or with a decimal point",
      ),
    );
  }
  const first = firstRow(judged, best);
  const rows = judged.length - judged.indexOf(first);
  return ok({
    separator: best.separator,
    decimal: best.decimal,
    newline,
    columns: best.columns,
    leading: lines.slice(0, first.line - 1).map((line) => line.text),
    firstRowByte: first.byte,
    firstRowLine: first.line,
    bytesPerRow: Math.max(1, (head.length - first.byte) / rows),
  });
}

/** The same as character codes, for the row parser. */
export function rowShape(layout: Layout): RowShape {
  return {
    columns: layout.columns,
    separator: layout.separator === "blanks" ? 32 : layout.separator.charCodeAt(0),
    blanks: layout.separator === "blanks",
    decimal: layout.decimal.charCodeAt(0),
    newline: layout.newline === "\r" ? 13 : 10,
  };
}

/** Cells of one line, blanks around them gone. */
export function cellsOf(text: string, separator: Separator): string[] {
  if (separator === "blanks") return text.trim().split(/[ \t]+/);
  return text.split(separator).map((cell) =>
    cell
      .trim()
      .replace(/^"(.*)"$/, "$1")
      .trim(),
  );
}

type Candidate = {
  readonly separator: Separator;
  readonly decimal: Decimal;
  readonly columns: number;
  /** Part of the lines that are rows of numbers under this reading. */
  readonly share: number;
  /** Part of the cells that begin like 0123: halves of decimal numbers cut at their comma. */
  readonly zeroLed: number;
  /** Part of the cells that are numbers. */
  readonly numeric: number;
};

function candidates(body: readonly string[], wishes: LayoutWishes): Candidate[] {
  const found: Candidate[] = [];
  for (const separator of separators) {
    for (const decimal of decimals) {
      if (separator === decimal) continue;
      if (wishes.separator !== undefined && wishes.separator !== separator) continue;
      if (wishes.decimal !== undefined && wishes.decimal !== decimal) continue;
      found.push(judge(body, separator, decimal));
    }
  }
  // A reading that cuts decimals in two loses to any other that holds; then more of the cells being numbers wins,
  // then more columns, then the order above.
  const rank = (c: Candidate) => c.share - (c.zeroLed > 0.02 ? 0.4 : 0);
  return found.sort((a, b) => rank(b) - rank(a) || b.numeric - a.numeric || b.columns - a.columns);
}

function judge(body: readonly string[], separator: Separator, decimal: Decimal): Candidate {
  const mark = decimal.charCodeAt(0);
  const counts = new Map<number, number>();
  let cells = 0;
  let numeric = 0;
  let zeroLed = 0;
  for (const line of body) {
    const row = cellsOf(line, separator);
    const width = row.at(-1) === "" ? row.length - 1 : row.length;
    const numbers = row.filter((cell) => Number.isFinite(cellValue(cell, mark))).length;
    const empty = row.slice(0, width).filter((cell) => isEmptyCell(cell)).length;
    // A column of words among the numbers is allowed; a line of words is not a row.
    if (numbers > 0 && numbers + empty >= Math.min(width, Math.ceil(width / 2) + (width > 2 ? 0 : 1))) {
      counts.set(width, (counts.get(width) ?? 0) + 1);
    }
    cells += width;
    numeric += numbers;
    zeroLed += row.filter((cell) => /^[-+]?0\d/.test(cell)).length;
  }
  let columns = 0;
  let most = 0;
  for (const [width, count] of counts) if (count > most) [columns, most] = [width, count];
  return {
    separator,
    decimal,
    columns,
    share: most / Math.max(1, body.length),
    zeroLed: zeroLed / Math.max(1, cells),
    numeric: numeric / Math.max(1, cells),
  };
}

/** The first line that is a row and is followed by rows: a lone line of numbers above them is a header. */
function firstRow(lines: readonly Line[], shape: Candidate): Line {
  const mark = shape.decimal.charCodeAt(0);
  const isRow = (line: Line | undefined) => {
    if (line === undefined) return true;
    const row = cellsOf(line.text, shape.separator);
    if (row.at(-1) === "" && row.length > shape.columns) row.pop();
    const numbers = row.filter((cell) => Number.isFinite(cellValue(cell, mark))).length;
    return row.length === shape.columns && numbers >= Math.max(1, Math.floor(shape.columns / 2));
  };
  const found = lines.findIndex((line, i) => isRow(line) && isRow(lines[i + 1]) && isRow(lines[i + 2]));
  return lines[Math.max(0, found)]!;
}

/** Lines as places only: most are never looked at, so their text is made when asked for. */
class Line {
  readonly #head: Uint8Array;
  readonly #end: number;
  readonly byte: number;
  /** From 1. */
  readonly line: number;

  constructor(head: Uint8Array, byte: number, end: number, line: number) {
    this.#head = head;
    this.byte = byte;
    this.#end = end;
    this.line = line;
  }

  get text(): string {
    return decodeText(this.#head.subarray(this.byte, this.#end)).replace(/\r$/, "");
  }

  get blank(): boolean {
    for (let i = this.byte; i < this.#end; i++) if (this.#head[i]! > 32) return false;
    return true;
  }
}

function splitLines(head: Uint8Array, newline: number): Line[] {
  const lines: Line[] = [];
  let start = 0;
  for (let i = 0; i <= head.length; i++) {
    if (i < head.length && head[i] !== newline) continue;
    if (i > start || i < head.length) lines.push(new Line(head, start, i, lines.length + 1));
    start = i + 1;
  }
  return lines;
}

function newlineOf(head: Uint8Array): Layout["newline"] {
  const feed = head.indexOf(10);
  if (feed < 0) return head.indexOf(13) < 0 ? "\n" : "\r";
  return head[feed - 1] === 13 ? "\r\n" : "\n";
}

/** Text has no zero bytes and hardly any control characters. */
function isBinary(head: Uint8Array): boolean {
  const n = Math.min(head.length, 8192);
  let control = 0;
  for (let i = 0; i < n; i++) {
    const c = head[i]!;
    if (c === 0) return true;
    if (c < 32 && c !== 9 && c !== 10 && c !== 13 && c !== 12 && c !== 26) control++;
  }
  return control > 0.01 * n;
}
