/**
 * What a safety officer should look at in one run: findings point at entries of the log and never
 * score a person. `red` and `amber` ask for a look, `note` is there to be read.
 */
export type Weight = "red" | "amber" | "note";

export type FindingKind =
  | "skipped"
  | "refused"
  | "hurried"
  | "lingered"
  | "in-step"
  | "catch"
  | "mismatch"
  | "held"
  | "reported"
  | "restarted"
  | "interrupted"
  | "late"
  | "redone"
  | "corrected"
  | "deviation"
  | "unfinished";

export type Finding = {
  readonly kind: FindingKind;
  readonly weight: Weight;
  /** The entries that show it, first to last. */
  readonly seqs: readonly number[];
  /** One line: what was seen, with its numbers. */
  readonly words: string;
  /** More, where there is more: the reason given, what was missing. */
  readonly detail: string;
};

export const finding = (
  kind: FindingKind,
  weight: Weight,
  seqs: readonly number[],
  words: string,
  detail = "",
): Finding => ({ kind, weight, seqs, words, detail });
