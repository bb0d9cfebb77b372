import { expect, inject, test } from "vitest";
import { SHIPPED } from "../../app/demo/documents.ts";
import { createSequence } from "../../core/sequence/advance.ts";
import { caughtAfter, recordBank } from "./bank.ts";
import { explore } from "./explore.ts";
import { mutants } from "./mutants.ts";
import { bankDocuments } from "./proof-documents.ts";
import { edgesOf, randomRuns } from "./random-run.ts";
import { SEARCHES, searchOf } from "./searches.ts";

/** The short share of `npm run prove`: the same parts, smaller, with the run's own seed. */

test("in every state of a one-restraint stand every invariant holds, and a safe end is always in reach", () => {
  const [plan] = SEARCHES;
  if (!plan) throw new Error("the proof lists no search");
  const small = {
    ...plan,
    restraints: 1,
    people: 3,
    corrections: "restraints",
    holdsBehind: 0,
    relief: false,
  } as const;
  const found = explore(searchOf(small));
  console.log(`${found.states} states, ${found.accepted} moves taken, ${found.refused} refused`);
  expect(found.violations).toEqual([]);
  expect(found.byState.get("zeroed")).toBeGreaterThan(0);
  expect(found.byState.get("closed")).toBeGreaterThan(0);
}, 900_000);

test("random runs on small, shipped and generated procedures agree with the second account of the rules, act by act", () => {
  const seed = inject("seed");
  const found = randomRuns({ documents: bankDocuments(seed), seed, events: 15_000 });
  expect(found.violations).toEqual([]);
  const edges = new Set(SHIPPED.flatMap(({ rig, procedure }) => edgesOf(createSequence(rig, procedure))));
  const reached = [...edges].filter((edge) => found.edges.has(edge));
  console.log(
    `${found.events} events, ${reached.length} of ${edges.size} edges, ${JSON.stringify(found.reached)}`,
  );
  // A kernel that refuses everything gets nowhere.
  expect(reached.length).toBeGreaterThan(0.6 * edges.size);
  expect(found.reached["releases"]).toBeGreaterThan(0);
  expect(found.reached["runs closed"]).toBeGreaterThan(10);
}, 900_000);

test("a guard taken out is missed: one in forty of them, from the tables and the chart themselves", () => {
  const seed = inject("seed");
  const bank = recordBank({ documents: bankDocuments(seed), seed, events: 10_000, wordByWord: 1 });
  const some = mutants().filter((_, i) => i % 40 === seed % 40);
  const caught = some.filter((mutant) => caughtAfter(bank, mutant) !== undefined);
  console.log(`${caught.length} of ${some.length} mutants caught in ${bank.acts.length} acts`);
  // All are caught in the long proof; so few acts may leave the rarest corners unvisited.
  expect(caught.length).toBeGreaterThan(0.75 * some.length);
}, 900_000);
