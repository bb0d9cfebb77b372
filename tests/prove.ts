import { SHIPPED } from "../app/demo/documents.ts";
import { createSequence } from "../core/sequence/advance.ts";
import { caughtAfter, recordBank } from "./model/bank.ts";
import { explore } from "./model/explore.ts";
import { mutants } from "./model/mutants.ts";
import { bankDocuments, proofDocuments } from "./model/proof-documents.ts";
import { edgesOf, randomRuns } from "./model/random-run.ts";
import { SEARCHES, searchOf } from "./model/searches.ts";
import { runSimulation } from "./simulation/simulate.ts";

/**
 * The long proof of the safety kernel: every state of small stands, every guard taken out in turn,
 * a million random events against a second account of the rules, a session over a failing store.
 * Prints what it does as it goes and ends with one JSON line. `--seed N`, `--events N`.
 */
const INVARIANTS = 18;
const LEAST_PER_EDGE = 100;

const option = (name: string, otherwise: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? otherwise : Number(process.argv[at + 1]);
};

const seed = option("seed", Date.now() % 1_000_000);
const wanted = option("events", 1_000_000);
const bankEvents = option("bank", 200_000);
const began = performance.now();
const say = (words: string): void =>
  console.error(`${((performance.now() - began) / 1000).toFixed(0)} s  ${words}`);

const violations: string[] = [];
say(`seed ${seed}`);

let states = 0;
let searchedEdges = 0;
for (const plan of SEARCHES) {
  const found = explore(searchOf(plan));
  states += found.states;
  searchedEdges += found.accepted + found.refused;
  violations.push(...found.violations);
  say(
    `${plan.name}: ${found.states} states, ${found.accepted} moves taken, ${found.refused} refused, ${found.violations.length} violations`,
  );
}

const runs = randomRuns({ documents: proofDocuments(seed, 12), seed, events: wanted });
violations.push(...runs.violations);
const edges = new Set(SHIPPED.flatMap(({ rig, procedure }) => edgesOf(createSequence(rig, procedure))));
const least = Math.floor((LEAST_PER_EDGE * wanted) / 1_000_000);
const rare = [...edges].filter((edge) => (runs.edges.get(edge) ?? 0) < least);
say(`random: ${runs.events} events in ${runs.runs} runs: ${JSON.stringify(runs.reached)}`);
for (const edge of rare)
  violations.push(`edge taken under ${least} times: ${edge} (${runs.edges.get(edge) ?? 0})`);

const bank = recordBank({ documents: bankDocuments(seed), seed, events: bankEvents, wordByWord: 2 });
const all = mutants();
const missed = all.filter((mutant) => caughtAfter(bank, mutant) === undefined).map(({ name }) => name);
say(`mutants: ${all.length - missed.length} of ${all.length} caught`);
for (const name of missed) say(`  not caught: ${name}`);

const simulated = await runSimulation(seed, option("simulated", 60));
violations.push(...simulated.violations);
say(
  `simulated: ${simulated.runs} runs, ${simulated.faults} faults ${JSON.stringify(simulated.faultsByName)}`,
);

for (const violation of violations.slice(0, 20)) say(violation);
console.log(
  JSON.stringify({
    states,
    edges: searchedEdges,
    invariants: INVARIANTS,
    mutants: all.length,
    mutantsCaught: all.length - missed.length,
    events: runs.events,
    edgesReached: edges.size - rare.length,
    edgesTotal: edges.size,
    faults: simulated.faults,
    violations: violations.length,
  }),
);
process.exitCode = violations.length + missed.length > 0 ? 1 : 0;
