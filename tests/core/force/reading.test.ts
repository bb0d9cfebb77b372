import { describe, expect, test } from "vitest";
import { ForceFileReader, readForceFile } from "../../../core/force/force-file.ts";

const bytesOf = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, little: boolean, mark: boolean) => {
  const units = [...(mark ? [0xfeff] : []), ...[...text].map((c) => c.charCodeAt(0))];
  return Uint8Array.from(units.flatMap((u) => (little ? [u & 255, u >> 8] : [u >> 8, u & 255])));
};

/** Thirty rows whose values say where they stand: time k/1000, north k + 0.25, south −k − 0.5. */
const rows = 30;
const values = (k: number) => [k / 1000, k + 0.25, -k - 0.5];
const table = (separator: string, decimal: string, newline: string, header: readonly string[]) =>
  [
    ...header,
    ...Array.from({ length: rows }, (_, k) =>
      values(k)
        .map((x) => x.toFixed(4).replace(".", decimal))
        .join(separator),
    ),
    "",
  ].join(newline);

function read(text: string | Uint8Array) {
  const result = readForceFile(typeof text === "string" ? bytesOf(text) : text);
  if (!result.ok) throw new Error(result.issues.map((i) => `${i.code} ${i.where} ${i.detail}`).join("; "));
  return result.value;
}

const isTable = (columns: readonly Float64Array[]) => {
  expect(columns).toHaveLength(3);
  for (let k = 0; k < rows; k++) {
    expect(columns.map((column) => column[k])).toEqual(values(k).map((x) => Number(x.toFixed(4))));
  }
  expect(columns[0]).toHaveLength(rows);
};

describe("layout", () => {
  const separators = [",", ";", "\t", "|", " ", "   ", " , ", "; "];
  const cases = separators.flatMap((separator) =>
    [".", ","].flatMap((decimal) =>
      separator.trim() === decimal
        ? []
        : ["\n", "\r\n", "\r"].map((newline) => ({ separator, decimal, newline })),
    ),
  );

  test.each(cases)(
    "is found for $separator between cells, $decimal in numbers, $newline between lines",
    (c) => {
      const header = ["time_s", "north_N", "south_N"].join(c.separator);
      isTable(read(table(c.separator, c.decimal, c.newline, [header])).columns);
    },
  );

  test("is found without any header", () => {
    isTable(read(table(",", ".", "\n", [])).columns);
  });

  test("is found under many leading lines of any kind, blank ones among them", () => {
    const file = read(
      table(";", ",", "\r\n", [
        "Messung 7",
        "",
        "# 2 Kanäle, Bereich 500",
        "3;4",
        "Zeit [ms];links [N];rechts [N]",
        "",
      ]),
    );
    isTable(file.columns);
    expect(file.headers.map((h) => h.name)).toEqual(["Zeit", "links", "rechts"]);
  });

  test("keeps numbers with powers, many digits, plus signs and bare points exactly", () => {
    const cells = [
      "1.5e-3",
      "+2.25",
      "-.5",
      "3.",
      "12345678901.2345",
      "0.1234567890123456789",
      "1E+22",
      "-0",
    ];
    const text = `${Array.from({ length: 4 }, () => cells.join(",")).join("\n")}\n`;
    expect(read(text).columns.map((column) => column[1])).toEqual(cells.map(Number));
  });

  test("says that a comma cannot be both decimal mark and separator", () => {
    const result = readForceFile(bytesOf(table(",", ",", "\n", [])));
    expect(result.ok ? [] : result.issues.map((i) => i.code)).toEqual(["decimal-ambiguous"]);
  });

  test("takes a correction of separator and decimal mark", () => {
    const text = Array.from({ length: 8 }, (_, k) => `${k},5`).join("\n");
    const corrected = readForceFile(bytesOf(text), { separator: ";", decimal: "," });
    expect(corrected.ok && [...corrected.value.columns[0]!]).toEqual([
      0.5, 1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5,
    ]);
  });
});

describe("encoding", () => {
  const text = table(";", ",", "\r\n", ["Zeit [µs];Kraft Süd [N];Kraft Nord [N]"]);
  test.each([
    ["UTF-8", bytesOf(text)],
    ["UTF-8 with its mark", bytesOf(`\uFEFF${text}`)],
    ["UTF-16, low byte first", utf16(text, true, true)],
    ["UTF-16, high byte first", utf16(text, false, true)],
    ["UTF-16 without a mark", utf16(text, true, false)],
    ["one byte a character", Uint8Array.from([...text].map((c) => c.charCodeAt(0)))],
  ])("%s is read, names and units too", (_name, bytes) => {
    const file = read(bytes);
    isTable(file.columns);
    expect(file.headers.map((h) => [h.name, h.unit?.symbol])).toEqual([
      ["Zeit", "µs"],
      ["Kraft Süd", "N"],
      ["Kraft Nord", "N"],
    ]);
  });
});

describe("a stream", () => {
  const text = table(",", ".", "\r\n", ["# a long comment, to be cut anywhere", "time_s,north_N,south_N"]);

  test.each([1, 2, 3, 7, 50, 1000])("in chunks of %d bytes gives what the whole gives", (size) => {
    for (const bytes of [bytesOf(text), utf16(text, false, true)]) {
      const reader = new ForceFileReader();
      for (let at = 0; at < bytes.length; at += size) reader.push(bytes.slice(at, at + size));
      const result = reader.finish();
      isTable(result.ok ? result.value.columns : []);
    }
  });

  test("longer than its head is parsed as it comes, without knowing its size", () => {
    const reader = new ForceFileReader();
    const line = (k: number) => bytesOf(`${(k / 1000).toFixed(3)},${k},${-k}\n`);
    reader.push(bytesOf("time_s,a_N,b_N\n"));
    let before = 0;
    for (let k = 0; k < 20_000; k++) {
      reader.push(line(k));
      if (k === 15_000) before = reader.rows;
    }
    expect(before).toBeGreaterThan(10_000);
    const result = reader.finish();
    expect(result.ok && [result.value.rows, result.value.columns[1]![19_999]]).toEqual([20_000, 19_999]);
  });
});

describe("cells, rows and lines that are not as they should be", () => {
  test("are counted and placed by line and column, the numbers beside them kept", () => {
    const lines = table(",", ".", "\n", ["time_s,north_N,south_N"]).split("\n");
    lines[5] = "0.0040,oops,-4.5000";
    lines[8] = "0.0070,7.2500";
    lines[10] = "# the recorder says something";
    lines[12] = "0.0110,11.2500,-11.5000,99";
    lines[14] = "0.0130,NaN,";
    const file = read(lines.join("\n"));
    expect(file.notes.map((n) => [n.code, n.where])).toEqual([
      ["cell-not-a-number", "line 6, column 2"],
      ["row-short", "line 9, column 3"],
      ["row-long", "line 13, column 4"],
      ["line-not-data", "line 11, column 1"],
    ]);
    expect([file.columns[1]![4], file.columns[2]![4]]).toEqual([Number.NaN, -4.5]);
    expect(file.columns[2]![7]).toBeNaN();
    expect(file.columns[1]![12]).toBeNaN();
    expect(file.lineOf(8)).toBe(10);
    expect(file.lineOf(9)).toBe(12);
  });

  test("a last line that is cut off is a short row", () => {
    const text = table(",", ".", "\n", ["time_s,north_N,south_N"]);
    const file = read(text.slice(0, -12));
    expect(file.rows).toBe(rows);
    expect(file.notes.map((n) => n.code)).toEqual(["row-short"]);
  });

  test.each([
    ["an empty file", new Uint8Array(0), "file-empty"],
    [
      "a picture",
      Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82]),
      "not-text",
    ],
    ["prose", bytesOf("There was no run today.\nThe air was out.\n"), "no-numbers"],
    ["one row", bytesOf("time_s,a_N\n0.1,2.5\n"), "too-few-rows"],
    ["hundreds of columns", bytesOf(`${Array(400).fill("1.5").join(",")}\n`.repeat(5)), "too-many-columns"],
  ])("%s is refused with a reason and a remedy", (_name, bytes, code) => {
    const result = readForceFile(bytes);
    expect(result.ok).toBe(false);
    if (!result.ok) {
      expect(result.issues.map((i) => i.code)).toEqual([code]);
      for (const issue of result.issues) expect(issue.remedy.length).toBeGreaterThan(10);
    }
  });
});
