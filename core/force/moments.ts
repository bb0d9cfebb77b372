import { type Issue, issue } from "../result.ts";

/** Moments in a row without a sample. */
export type Gap = { readonly from: number; readonly count: number; readonly afterRow: number };

/** Rows counted, with the first of each kind to point at. */
type Rows = { count: number; first: number };

export type Claims = {
  /** Row of each moment, -1 where none claims it. */
  readonly owner: Int32Array;
  readonly duplicates: number;
  readonly differing: Rows;
  readonly timeless: Rows;
};

/** Each moment keeps the first row that claims it; the others are doubles, and their slots become -1. */
export function claimMoments(
  time: Float64Array,
  slots: Int32Array,
  samples: number,
  uneven: boolean,
  same: (row: number, other: number) => boolean,
): Claims {
  const owner = new Int32Array(samples).fill(-1);
  const differing: Rows = { count: 0, first: 0 };
  const timeless: Rows = { count: 0, first: 0 };
  const add = (rows: Rows, row: number) => {
    if (rows.count++ === 0) rows.first = row;
  };
  let duplicates = 0;
  for (let i = 0; i < slots.length; i++) {
    const slot = Math.min(slots[i]!, samples - 1);
    slots[i] = slot;
    if (slot < 0) add(timeless, i);
    else if (owner[slot] === -1) owner[slot] = i;
    // Two rows near one moment of a wandering clock are two samples, not one twice.
    else if (!uneven || time[i] === time[owner[slot]!]) {
      duplicates++;
      slots[i] = -1;
      if (!same(i, owner[slot]!)) add(differing, i);
    }
  }
  return { owner, duplicates, differing, timeless };
}

export function gapsBetween(owner: Int32Array, uneven: boolean): readonly Gap[] {
  const gaps: Gap[] = [];
  for (let s = 0; s < owner.length; s++) {
    if (owner[s] !== -1) continue;
    const from = s;
    while (s < owner.length && owner[s] === -1) s++;
    // In uneven times a moment without its own row is a matter of jitter unless two are missing together.
    if (!uneven || s - from > 1)
      gaps.push({ from, count: s - from, afterRow: from > 0 ? owner[from - 1]! : 0 });
  }
  return gaps;
}

export function notesOn(
  { timeless, differing }: Claims,
  uneven: boolean,
  lineOf: (row: number) => number,
): readonly Issue[] {
  const notes: Issue[] = [];
  if (timeless.count > 0) {
    notes.push(
      issue(
        "time-missing",
        `line ${lineOf(timeless.first)}`,
        `${timeless.count} rows have no usable time`,
        "they are not used; look at the file there",
      ),
    );
  }
  if (differing.count > 0) {
    notes.push(
      issue(
        "duplicates-differ",
        `line ${lineOf(differing.first)}`,
        `${differing.count} rows repeat a time with other forces`,
        "the first row of each time is used; look which one the recorder meant",
      ),
    );
  }
  if (uneven) {
    notes.push(
      issue(
        "time-uneven",
        `line ${lineOf(0)}`,
        "the times do not stand on an even grid",
        "values are drawn straight between them; use a recorder with its own clock",
      ),
    );
  }
  return notes;
}
