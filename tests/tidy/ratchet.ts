import type { Ratchet } from "./length.ts";

/**
 * Lengths over the limit, only ever lowered. The two tables of the kernel are tables: one row after
 * another is their one duty. The others are places to look for a second one.
 */
export const ratchet: Ratchet = {
  "core/sequence/facts.ts": 477,
  "core/sequence/rules.ts": 358,
  "tests/model/independent/permissions.ts": 339,
  "tests/e2e/stand-odd.test.ts": 319,
  "app/stand/use-say.ts useSay": 67,
  "core/review/review-run.ts ofAct": 78,
  "core/sequence/chart.ts createChart": 66,
  "tests/contract/run-store.contract.ts runStoreContract": 99,
  "tests/contract/run-store.contract.ts (anonymous)": 94,
  "tests/model/independent/permissions.ts offended": 141,
  "tests/simulation/faulty-store.ts faultyStore": 74,
};
