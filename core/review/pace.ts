import { findStep, isCritical, type Procedure, type Step } from "../procedure/procedure.ts";
import type { Entry } from "../record/entry.ts";
import { type Finding, finding, type Weight } from "./finding.ts";

/**
 * Acts that were too quick to have been looked at, or that took so long that somebody was called
 * away. The least plausible times are built from keystroke-level values, reading at about 4 words/s
 * and walking at about 1 m/s (derived in the project's safety notes; red under 1 s after
 * NTSB/AAR-89/04). They are flags for a person to weigh, never shown to a crew and never a block.
 */
type Floor = { readonly act: string; readonly amber_s: number; readonly red_s: number };

const RESTRAINT: Floor = { act: "one restraint: look, touch, say, answer", amber_s: 2, red_s: 1 };
const PULL: Floor = { act: "pull, hold, look again", amber_s: 4, red_s: 2 };
const READING: Floor = { act: "read and type a number", amber_s: 2, red_s: 1 };
const SWEEP: Floor = { act: "sweep and answers", amber_s: 5, red_s: 2 };
const LOOK: Floor = { act: "look and answer", amber_s: 2, red_s: 1 };
const ALL_RESTRAINTS: Floor = { act: "all restraints, walking round", amber_s: 8, red_s: 4 };
const HAND_OVER: Floor = { act: "hand-over before the second looks", amber_s: 10, red_s: 5 };

/** Longer than this in one critical step: somebody was probably called away. */
const LINGER_s = 180;

const floorOf = (step: Step): Floor | undefined => {
  if (step.proves.includes("pull-tested")) return PULL;
  if (step.proves.includes("clear")) return SWEEP;
  if (step.form.kind === "measure") return READING;
  if (step.form.kind === "look") return LOOK;
  return undefined;
};

/** Seconds by the monotonic clock; undefined across a restart, where no clock can tell. */
export const gap_s = (from: Entry, to: Entry): number | undefined =>
  from.session === to.session && to.mono >= from.mono ? (to.mono - from.mono) / 10_000 : undefined;

const weigh = (took_s: number, floor: Floor): Weight | undefined => {
  if (took_s < floor.red_s) return "red";
  return took_s < floor.amber_s ? "amber" : undefined;
};

const quick = (seqs: readonly number[], what: string, took_s: number, floor: Floor): readonly Finding[] => {
  const weight = weigh(took_s, floor);
  if (!weight) return [];
  const words = `${what} in ${took_s.toFixed(1)} s`;
  return [
    finding("hurried", weight, seqs, words, `${floor.act}: under ${floor.amber_s} s is hardly possible`),
  ];
};

const paceOf = (procedure: Procedure, before: Entry, entry: Entry): readonly Finding[] => {
  const took_s = gap_s(before, entry);
  if (took_s === undefined) return [];
  const { event } = entry;
  if (event.type === "restraint-answered")
    return quick([entry.seq], `${event.restraint} answered, round ${event.round},`, took_s, RESTRAINT);
  if (event.type !== "step-done") return [];
  const step = findStep(procedure, event.step)?.step;
  if (!step) return [];
  const floor = floorOf(step);
  const hurried = floor ? quick([entry.seq], `“${step.text}”`, took_s, floor) : [];
  if (!isCritical(step) || took_s <= LINGER_s) return hurried;
  const words = `“${step.text}” took ${(took_s / 60).toFixed(0)} min`;
  return [
    finding("lingered", "amber", [entry.seq], words, "Long in one critical step: was somebody called away?"),
  ];
};

/** Runs of restraint answers of one round, in the order they were given. */
const roundsOf = (entries: readonly Entry[]): readonly (readonly Entry[])[] => {
  const rounds: Entry[][] = [];
  let round = 0;
  for (const entry of entries) {
    if (entry.event.type !== "restraint-answered") round = 0;
    else {
      if (entry.event.round !== round) rounds.push([]);
      round = entry.event.round;
      rounds.at(-1)?.push(entry);
    }
  }
  return rounds;
};

/** Evenly spaced taps: their spread is under a tenth of their mean. Four answers at the least tell. */
const isEven = (gaps_s: readonly number[]): boolean => {
  if (gaps_s.length < 3) return false;
  const mean = gaps_s.reduce((sum, gap) => sum + gap, 0) / gaps_s.length;
  const spread = Math.max(...gaps_s) - Math.min(...gaps_s);
  return mean > 0 && mean < 10 && spread < 0.1 * mean;
};

const paceOfRound = (round: readonly Entry[]): readonly Finding[] => {
  const [first] = round;
  const last = round.at(-1);
  if (!first || !last || round.length < 2) return [];
  const seqs = round.map(({ seq }) => seq);
  const whole_s = gap_s(first, last);
  const floor = { ...ALL_RESTRAINTS, amber_s: 2 * round.length, red_s: round.length };
  const hurried = whole_s === undefined ? [] : quick(seqs, `${round.length} restraints`, whole_s, floor);
  const gaps_s = round.slice(1).map((entry, i) => gap_s(round[i] as Entry, entry));
  const known = gaps_s.filter((gap): gap is number => gap !== undefined);
  const even = known.length === gaps_s.length && isEven(known);
  const rhythm = finding(
    "in-step",
    "amber",
    seqs,
    "answers evenly spaced",
    "The same pause each time: tapped, or looked at?",
  );
  return even ? [...hurried, rhythm] : hurried;
};

const paceOfHandOver = (entries: readonly Entry[]): readonly Finding[] =>
  roundsOf(entries).flatMap((round) => {
    const [second] = round;
    if (second?.event.type !== "restraint-answered" || second.event.round !== 2) return [];
    const index = entries.indexOf(second);
    const first = entries
      .slice(0, index)
      .findLast(({ event }) => event.type === "restraint-answered" && event.round === 1);
    const took_s = first && gap_s(first, second);
    if (!first || took_s === undefined) return [];
    return quick([first.seq, second.seq], "first look to second look", took_s, HAND_OVER);
  });

/** Everything about pace in one run's log. */
export const paceFindings = (procedure: Procedure, entries: readonly Entry[]): readonly Finding[] => [
  ...entries.slice(1).flatMap((entry, i) => paceOf(procedure, entries[i] as Entry, entry)),
  ...roundsOf(entries).flatMap(paceOfRound),
  ...paceOfHandOver(entries),
];
