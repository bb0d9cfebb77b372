import type { ChannelSetup } from "../../core/exchange/setup-channels.ts";
import type { Role } from "../../core/force/columns.ts";
import type { Decimal, Separator } from "../../core/force/layout.ts";
import { failed, issue, ok, type Result } from "../../core/result.ts";
import type { Evidence } from "./matching.ts";

/**
 * What people decided about one force file: how it is read, whose firings it holds, which marks were moved by hand.
 * Kept as a file of its own beside the record; every change is a new one, and the newest counts.
 */
export type BenchRecord = {
  readonly format: "fourfast-bench-record";
  readonly version: 1;
  /** Counts up with every change, so that no two states are the same bytes and the newest is known. */
  readonly revision: number;
  /** SHA-256 of the force file. */
  readonly file: string;
  readonly fileName: string;
  readonly settings: FileSettings;
  readonly joins: readonly Join[];
  /** Every move that was ever made, in order; the last one of a mark counts. */
  readonly moves: readonly MarkMove[];
};

export type FileSettings = {
  readonly separator?: Separator;
  readonly decimal?: Decimal;
  /** Corrected roles, one for each column; absent: as guessed. */
  readonly roles?: readonly Role[];
  /** Absent: the joined run's rig says, or the file's own headers. */
  readonly channels?: readonly ChannelSetup[];
  readonly sampleRate_Hz?: number;
  readonly calibratedTogether?: boolean;
  /** For a record without a run file: what somebody typed, in the keys of S.json. A joined run wins. */
  readonly conditions?: Readonly<Record<string, number>>;
};

export type Join = {
  /** Place of the firing in the file, from 0. */
  readonly event: number;
  readonly log: string;
  /** Who confirmed it, and on what evidence it was suggested; none: picked by hand. */
  readonly by: string;
  readonly at: number;
  readonly evidence: readonly Evidence[];
};

export const markNames = ["onset_s", "waterEnd_s", "end_s"] as const;
export type MarkName = (typeof markNames)[number];

export type MarkMove = {
  readonly event: number;
  readonly mark: MarkName;
  readonly from_s: number;
  /** null: given back to the finder. */
  readonly to_s: number | null;
  readonly by: string;
  readonly at: number;
  readonly impulseBefore_Ns: number;
  readonly impulseAfter_Ns: number;
};

export const emptyRecord = (file: string, fileName: string): BenchRecord => ({
  format: "fourfast-bench-record",
  version: 1,
  revision: 0,
  file,
  fileName,
  settings: {},
  joins: [],
  moves: [],
});

/** The marks of one firing that stand where a hand put them. */
export function handMarks(moves: readonly MarkMove[], event: number): { readonly [M in MarkName]?: number } {
  const marks: { [M in MarkName]?: number } = {};
  for (const move of moves) {
    if (move.event !== event) continue;
    if (move.to_s === null) delete marks[move.mark];
    else marks[move.mark] = move.to_s;
  }
  return marks;
}

const prefix = "bench-";

/** The name under which the store lists it: the force file can be found without opening every result. */
export const recordName = (file: string): string => `${prefix}${file}.json`;
export const fileOfRecord = (name: string): string | undefined =>
  name.startsWith(prefix) && name.endsWith(".json") ? name.slice(prefix.length, -".json".length) : undefined;

export const recordText = (record: BenchRecord): string => `${JSON.stringify(record, undefined, 1)}\n`;

/**
 * Reads back what this bench wrote.
 * @fails bench-record-unreadable
 */
export function readRecord(text: string): Result<BenchRecord> {
  const refused = (detail: string) =>
    failed(
      issue(
        "bench-record-unreadable",
        "file",
        detail,
        "match the file again; the force file itself is untouched",
      ),
    );
  try {
    const json = JSON.parse(text) as Partial<BenchRecord> | null;
    if (json?.format !== "fourfast-bench-record" || json.version !== 1)
      return refused("it is no bench record of version 1");
    const whole =
      typeof json.file === "string" &&
      Number.isInteger(json.revision) &&
      typeof json.settings === "object" &&
      Array.isArray(json.joins) &&
      Array.isArray(json.moves);
    return whole ? ok(json as BenchRecord) : refused("a part is missing");
  } catch {
    return refused("it is not JSON");
  }
}
