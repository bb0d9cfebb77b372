import { SHIPPED } from "../../app/demo/documents.ts";
import { createSequence } from "../../core/sequence/advance.ts";
import { caughtAfter, recordBank } from "../model/bank.ts";
import { explore } from "../model/explore.ts";
import { mutants } from "../model/mutants.ts";
import { bankDocuments, randomDocuments } from "../model/proof-documents.ts";
import { edgesOf, randomRuns } from "../model/random-run.ts";
import { SEARCHES, searchOf } from "../model/searches.ts";
import { runSimulation } from "../simulation/simulate.ts";

/** One part of the proof, small enough to send to a worker. */
export type Part =
  | { readonly kind: "search"; readonly index: number }
  | { readonly kind: "random"; readonly seed: number; readonly events: number }
  /** Every `of`th mutant, from the `share`th on. */
  | {
      readonly kind: "mutants";
      readonly seed: number;
      readonly events: number;
      readonly share: number;
      readonly of: number;
    }
  | { readonly kind: "simulation"; readonly seed: number; readonly runs: number };

export type Outcome = {
  readonly words: string;
  readonly violations: readonly string[];
  readonly states?: number;
  readonly moves?: number;
  readonly mutants?: number;
  readonly missed?: readonly string[];
  readonly events?: number;
  /** Edges of the chart, and how often each was taken. */
  readonly edges?: Readonly<Record<string, number>>;
  readonly faults?: number;
};

const search = (index: number): Outcome => {
  const plan = SEARCHES[index];
  if (!plan) throw new Error(`no search ${index}`);
  const { states, accepted, refused, violations } = explore(searchOf(plan));
  const words = `${plan.name}: ${states} states, ${accepted} moves taken, ${refused} refused`;
  return { words, violations, states, moves: accepted + refused };
};

const random = ({ seed, events }: Extract<Part, { kind: "random" }>): Outcome => {
  const found = randomRuns({ documents: randomDocuments(seed), seed, events });
  const all = SHIPPED.flatMap(({ rig, procedure }) => edgesOf(createSequence(rig, procedure)));
  return {
    words: `${found.events} random events in ${found.runs} runs: ${JSON.stringify(found.reached)}`,
    violations: found.violations,
    events: found.events,
    edges: Object.fromEntries(all.map((edge) => [edge, found.edges.get(edge) ?? 0])),
  };
};

const taken = ({ seed, events, share, of }: Extract<Part, { kind: "mutants" }>): Outcome => {
  const bank = recordBank({ documents: bankDocuments(seed), seed, events, wordByWord: 2 });
  const some = mutants().filter((_, i) => i % of === share);
  const missed = some.filter((mutant) => caughtAfter(bank, mutant) === undefined).map(({ name }) => name);
  const words = `${some.length - missed.length} of ${some.length} mutants caught in ${bank.acts.length} acts`;
  return { words, violations: [], mutants: some.length, missed };
};

const simulation = async (seed: number, runs: number): Promise<Outcome> => {
  const { faults, faultsByName, violations } = await runSimulation(seed, runs);
  return {
    words: `${runs} simulated runs, ${faults} faults ${JSON.stringify(faultsByName)}`,
    violations,
    faults,
  };
};

export const prove = async (part: Part): Promise<Outcome> => {
  switch (part.kind) {
    case "search":
      return search(part.index);
    case "random":
      return random(part);
    case "mutants":
      return taken(part);
    case "simulation":
      return simulation(part.seed, part.runs);
  }
};

export const SEARCH_COUNT = SEARCHES.length;
