import { readRunCode, runCodeText } from "../../core/record/run-code.ts";

/**
 * Which firing belongs to which run: by the code that was given to the recorder first, then by conditions and
 * order. Clocks only help, since force files often start at zero seconds. Nothing here decides: a person confirms.
 */

/** One firing found in a force file. */
export type Firing = {
  readonly file: string;
  /** Place in the file, from 0. */
  readonly event: number;
  /** Time of the onset in the file's own clock. */
  readonly onset_s: number;
  /** Water that left by the record's end level; undefined where the level says nothing. */
  readonly weighed_kg?: number;
  /** Its standard uncertainty. */
  readonly weighedU_kg?: number;
};

export type RecordFile = {
  readonly digest: string;
  readonly name: string;
  /** The lines above the numbers. */
  readonly leading: readonly string[];
  /** When the file was last written, by its own stamp; a hint at order, no more. */
  readonly written_ms?: number;
  readonly firings: readonly Firing[];
};

export type CandidateRun = {
  readonly log: string;
  readonly code: string;
  readonly released_ms: number;
  readonly water_kg: number;
};

export type Evidence = "code" | "water" | "spacing" | "order";

export type Suggestion = {
  readonly file: string;
  readonly event: number;
  readonly log: string;
  /** Strongest first; "code" alone is as good as said. */
  readonly evidence: readonly Evidence[];
};

export function suggestMatches(
  files: readonly RecordFile[],
  runs: readonly CandidateRun[],
  taken: ReadonlySet<string> = new Set(),
): readonly Suggestion[] {
  const byCode = files.flatMap((file) => codedFirings(file, runs));
  const named = new Set(byCode.map(({ file, event }) => `${file}/${event}`));
  const used = new Set([...taken, ...byCode.map(({ log }) => log)]);
  const open = inOrder(files).filter(({ firing }) => !named.has(`${firing.file}/${firing.event}`));
  const free = runs.filter(({ log }) => !used.has(log)).sort((a, b) => a.released_ms - b.released_ms);
  return [...byCode, ...aligned(open, free)];
}

/** Every run code that a text holds, in its order: H-329-04, h 329 04, H32904. */
export function codesIn(text: string): readonly string[] {
  const found: string[] = [];
  for (const [typed] of text.matchAll(/(?<![A-Za-z])[A-Za-z][\s_-]?\d{3}[\s_-]?\d{2,3}(?!\d)/g)) {
    const code = readRunCode(typed.replaceAll("_", "-"));
    if (code.ok) found.push(runCodeText(code.value));
  }
  return [...new Set(found)];
}

/** Codes of the name, else of the header; as many firings as codes are taken to stand in the same order. */
function codedFirings(file: RecordFile, runs: readonly CandidateRun[]): Suggestion[] {
  const known = (codes: readonly string[]) =>
    codes.flatMap((code) => {
      const fitting = runs.filter((run) => run.code === code);
      // The same code in two years: the code alone does not tell.
      return fitting.length === 1 ? fitting : [];
    });
  const inName = known(codesIn(file.name));
  const said = inName.length > 0 ? inName : known(codesIn(file.leading.join("\n")));
  if (said.length === 0) return [];
  if (said.length === file.firings.length)
    return said.map(({ log }, i) => ({
      file: file.digest,
      event: file.firings[i]!.event,
      log,
      evidence: ["code"],
    }));
  // One code and several firings: the one whose water fits best, else the last, which is what was waited for.
  if (said.length > 1 || file.firings.length === 0) return [];
  const run = said[0]!;
  const best = [...file.firings].sort((a, b) => likeness(b, run) - likeness(a, run) || b.event - a.event)[0]!;
  return [{ file: file.digest, event: best.event, log: run.log, evidence: ["code"] }];
}

type Open = { readonly firing: Firing };

/** As they were fired, as far as names and stamps tell. */
function inOrder(files: readonly RecordFile[]): Open[] {
  const byName = new Intl.Collator("en", { numeric: true });
  return [...files]
    .sort((a, b) => byName.compare(a.name, b.name) || (a.written_ms ?? 0) - (b.written_ms ?? 0))
    .flatMap((file) => file.firings.map((firing) => ({ firing })));
}

/** How well the water that left fits a run, as the logarithm of a likelihood; 0 where nothing is known. */
function likeness(firing: Firing, run: CandidateRun): number {
  if (firing.weighed_kg === undefined) return 0;
  const u_kg = Math.hypot(firing.weighedU_kg ?? 0.02, waterRelU * run.water_kg);
  return -0.5 * Math.min(((firing.weighed_kg - run.water_kg) / u_kg) ** 2, worst);
}

const waterRelU = 0.02;
/** A leak or a spill may put any water off: past this, unlike is unlike. */
const worst = 25;
/** What it costs to leave a firing or a run without a partner, against a pair that does not fit. */
const leaveOut = -6;
const spacingU_s = 1.5;

/**
 * Pairs two ordered lists so that the order is kept, the water fits and firings of one file are as far apart as
 * their releases were: the best alignment by dynamic programming, where either side may have some left over.
 */
function aligned(firings: readonly Open[], runs: readonly CandidateRun[]): Suggestion[] {
  const known = new Map<string, Alignment>();
  /** From firing i and run j on, the firing before i being paired with run `before`, or with none (-1). */
  const bestFrom = (i: number, j: number, before: number): Alignment => {
    if (i === firings.length || j === runs.length)
      return { value: leaveOut * (firings.length - i + runs.length - j), pairs: undefined };
    const key = `${i},${j},${before}`;
    const found = known.get(key);
    if (found) return found;
    const gap_s = before < 0 ? undefined : gapOff_s(firings[i - 1]!, firings[i]!, runs[before]!, runs[j]!);
    const together = bestFrom(i + 1, j + 1, j);
    const fit = likeness(firings[i]!.firing, runs[j]!) + spacing(gap_s);
    const choices: Alignment[] = [
      {
        value: fit + together.value,
        pairs: { suggestion: suggestion(firings[i]!.firing, runs[j]!, gap_s), next: together.pairs },
      },
      leftOut(bestFrom(i + 1, j, -1)),
      leftOut(bestFrom(i, j + 1, before)),
    ];
    // The first of equals: to pair is better than to leave out.
    const best = choices.reduce((a, b) => (b.value > a.value ? b : a));
    known.set(key, best);
    return best;
  };
  const pairs: Suggestion[] = [];
  for (let at = bestFrom(0, 0, -1).pairs; at; at = at.next) pairs.push(at.suggestion);
  return pairs;
}

type Pairs = { readonly suggestion: Suggestion; readonly next: Pairs | undefined };
type Alignment = { readonly value: number; readonly pairs: Pairs | undefined };

const leftOut = ({ value, pairs }: Alignment): Alignment => ({ value: value + leaveOut, pairs });

/** How far two firings of one file are from being as far apart as their releases; undefined across files. */
function gapOff_s(before: Open, here: Open, runBefore: CandidateRun, run: CandidateRun): number | undefined {
  if (before.firing.file !== here.firing.file) return undefined;
  return here.firing.onset_s - before.firing.onset_s - (run.released_ms - runBefore.released_ms) / 1000;
}

const spacing = (gap_s: number | undefined) =>
  gap_s === undefined ? 0 : -0.5 * Math.min((gap_s / spacingU_s) ** 2, worst);

function suggestion(firing: Firing, run: CandidateRun, gap_s: number | undefined): Suggestion {
  const evidence: Evidence[] = [];
  if (firing.weighed_kg !== undefined && likeness(firing, run) > -2) evidence.push("water");
  if (gap_s !== undefined && Math.abs(gap_s) < 2 * spacingU_s) evidence.push("spacing");
  return { file: firing.file, event: firing.event, log: run.log, evidence: [...evidence, "order"] };
}
