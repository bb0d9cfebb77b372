import type { Finding } from "./finding.ts";

/** A habit that shows only over runs: the procedure is wrong, or the crew has drifted from it. */
export type Trend = { readonly words: string; readonly runs: readonly string[] };

export type ReviewedRun = { readonly code: string; readonly findings: readonly Finding[] };

/** The same skip in more than one of five runs is no longer an exception. */
const SKIP_SHARE = 0.2;
/** The same finding in so many runs one after another is drift. */
const RUNNING = 3;

const byWords = (runs: readonly ReviewedRun[], kind: Finding["kind"], key: (finding: Finding) => string) => {
  const found = new Map<string, string[]>();
  for (const { code, findings } of runs)
    for (const words of new Set(findings.filter((one) => one.kind === kind).map(key)))
      found.set(words, [...(found.get(words) ?? []), code]);
  return found;
};

const isRunning = (runs: readonly ReviewedRun[], codes: readonly string[]): boolean => {
  const flags = runs.map(({ code }) => codes.includes(code));
  return flags.some((_, i) => i + RUNNING <= flags.length && flags.slice(i, i + RUNNING).every(Boolean));
};

/**
 * Habits over several runs, oldest first: the same step skipped in more than one of five, the same
 * act hurried in three runs running.
 */
export const trendsOver = (runs: readonly ReviewedRun[]): readonly Trend[] => {
  const skips = [...byWords(runs, "skipped", ({ words }) => words)]
    .filter(([, codes]) => codes.length >= 2 && codes.length > SKIP_SHARE * runs.length)
    .map(([words, codes]) => ({ words: `${words}, in ${codes.length} of ${runs.length} runs`, runs: codes }));
  const hurried = [...byWords(runs, "hurried", ({ words }) => words.replace(/ in [\d.]+ s$/, ""))]
    .filter(([, codes]) => isRunning(runs, codes))
    .map(([words, codes]) => ({ words: `hurried again and again: ${words}`, runs: codes }));
  return [...skips, ...hurried];
};
