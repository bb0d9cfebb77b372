/**
 * What the world can cause is a value, not an exception: a result is either good, or it lists
 * every issue that was found. Wording for people lives in `app/text.ts`; here are only facts.
 */

export type Issue = {
  /** Stable, kebab-case, documented in docs/formats.md. */
  readonly code: string;
  /** Where in the input: "line 12, column 3", "steps[4].band.max", "entry 17". */
  readonly where: string;
  /** What was found, in plain words with the values concerned. */
  readonly detail: string;
  /** What the reader can do about it. */
  readonly remedy: string;
};

export type Ok<T> = { readonly ok: true; readonly value: T };
export type Failed<I = Issue> = { readonly ok: false; readonly issues: readonly I[] };
export type Result<T, I = Issue> = Ok<T> | Failed<I>;

export const ok = <T>(value: T): Ok<T> => ({ ok: true, value });

export const failed = <I = Issue>(...issues: readonly I[]): Failed<I> => ({ ok: false, issues });

export const issue = (code: string, where: string, detail: string, remedy: string): Issue => ({
  code,
  where,
  detail,
  remedy,
});

/** The same issues, told from farther out: each with the file, or the part of one, that it is in. */
export const placedIn = (place: string, issues: readonly Issue[]): readonly Issue[] =>
  issues.map((one) => ({ ...one, where: `${place}, ${one.where}` }));
