import { fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { type Outcome, type Part, SEARCH_COUNT } from "./prove/parts.ts";

/**
 * The long proof of the safety kernel: every state of small stands, every guard taken out in turn,
 * a million random events against a second account of the rules, a session over a failing store.
 * Says what it does as it goes and ends with one JSON line. `--seed N`, `--events N`, `--bank N`.
 */
const INVARIANTS = 18;
/** How often a million events take each edge of the chart, at least. */
const LEAST_PER_EDGE = 100;
const MUTANT_SHARES = 4;
const RANDOM_SHARES = 4;

const option = (name: string, otherwise: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? otherwise : Number(process.argv[at + 1]);
};

const seed = option("seed", Date.now() % 1_000_000);
const events = option("events", 1_000_000);
const bank = option("bank", 30_000);
const began = performance.now();
const say = (words: string): void =>
  console.error(`${((performance.now() - began) / 1000).toFixed(0)} s  ${words}`);

const parts: readonly Part[] = [
  ...Array.from({ length: SEARCH_COUNT }, (_, index): Part => ({ kind: "search", index })),
  ...Array.from(
    { length: RANDOM_SHARES },
    (_, share): Part => ({ kind: "random", seed: seed + share, events: Math.ceil(events / RANDOM_SHARES) }),
  ),
  ...Array.from(
    { length: MUTANT_SHARES },
    (_, share): Part => ({ kind: "mutants", seed, events: bank, share, of: MUTANT_SHARES }),
  ),
  { kind: "simulation", seed, runs: option("simulated", 60) },
];

const inProcess = (part: Part): Promise<Outcome> =>
  new Promise((resolve, reject) => {
    const child = fork(new URL("./prove/lane.ts", import.meta.url), { execArgv: ["--import", "tsx"] });
    child.once("message", (outcome) => resolve(outcome as Outcome));
    child.once("exit", (code) => reject(new Error(`a part ended with ${code} and said nothing`)));
    child.send(part);
  });

say(`seed ${seed}`);
const waiting = [...parts];
const outcomes: Outcome[] = [];
const lane = async (): Promise<void> => {
  for (let part = waiting.shift(); part; part = waiting.shift()) {
    const outcome = await inProcess(part);
    outcomes.push(outcome);
    say(`${outcome.words}, ${outcome.violations.length} violations`);
    for (const line of [
      ...outcome.violations.slice(0, 10),
      ...(outcome.missed ?? []).map((name) => `not caught: ${name}`),
    ])
      say(`  ${line}`);
  }
};
await Promise.all(Array.from({ length: availableParallelism() }, lane));

type Count = "states" | "moves" | "mutants" | "events" | "faults";
const sum = (key: Count): number => outcomes.reduce((total, outcome) => total + (outcome[key] ?? 0), 0);
const missed = outcomes.reduce((total, outcome) => total + (outcome.missed?.length ?? 0), 0);
const taken = new Map<string, number>();
for (const { edges = {} } of outcomes)
  for (const [edge, times] of Object.entries(edges)) taken.set(edge, (taken.get(edge) ?? 0) + times);
const least = Math.floor((LEAST_PER_EDGE * events) / 1_000_000);
const rare = [...taken].filter(([, times]) => times < least);
for (const [edge, times] of rare) say(`  edge taken ${times} times, under ${least}: ${edge}`);
const violations = rare.length + outcomes.reduce((total, outcome) => total + outcome.violations.length, 0);
console.log(
  JSON.stringify({
    states: sum("states"),
    edges: sum("moves"),
    invariants: INVARIANTS,
    mutants: sum("mutants"),
    mutantsCaught: sum("mutants") - missed,
    events: sum("events"),
    edgesReached: taken.size - rare.length,
    edgesTotal: taken.size,
    faults: sum("faults"),
    violations,
  }),
);
process.exitCode = violations + missed > 0 ? 1 : 0;
