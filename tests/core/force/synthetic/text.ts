import { columnNames } from "./ordinary.ts";
import type { SyntheticRecord } from "./record.ts";

/** How a recorder may write the same numbers. */
export type TextForm = {
  readonly separator: "," | ";" | "\t" | " ";
  readonly decimal: "." | ",";
  readonly newline: "\n" | "\r\n";
  readonly header: readonly string[];
  readonly time: "s" | "ms" | "none";
  /** Multiplies every force before it is written. */
  readonly perNewton: number;
  readonly digits: number;
  readonly withSum: boolean;
  /** Rows that are not written, and rows that are written twice. */
  readonly missing?: ReadonlySet<number>;
  readonly doubled?: ReadonlySet<number>;
};

export const plainForm: TextForm = {
  separator: ",",
  decimal: ".",
  newline: "\n",
  header: [],
  time: "s",
  perNewton: 1,
  digits: 4,
  withSum: false,
};

export function recordText(record: SyntheticRecord, form: Partial<TextForm> = {}): string {
  const f = { ...plainForm, ...form };
  const names = ["time_s", ...columnNames.slice(0, record.channels_N.length)];
  const lines = f.header.length > 0 ? [...f.header] : [names.join(f.separator)];
  const write = (x: number, digits: number) =>
    f.decimal === "." ? x.toFixed(digits) : x.toFixed(digits).replace(".", f.decimal);
  for (let i = 0; i < record.time_s.length; i++) {
    if (f.missing?.has(i)) continue;
    const cells: string[] = [];
    if (f.time === "s") cells.push(write(record.time_s[i]!, 6));
    if (f.time === "ms") cells.push(write(record.time_s[i]! * 1000, 4));
    let sum = 0;
    for (const channel of record.channels_N) {
      cells.push(write(channel[i]! * f.perNewton, f.digits));
      sum += channel[i]!;
    }
    if (f.withSum) cells.push(write(sum * f.perNewton, f.digits));
    const line = cells.join(f.separator);
    lines.push(line);
    if (f.doubled?.has(i)) lines.push(line);
  }
  return lines.join(f.newline) + f.newline;
}

export const recordBytes = (record: SyntheticRecord, form: Partial<TextForm> = {}): Uint8Array =>
  new TextEncoder().encode(recordText(record, form));
