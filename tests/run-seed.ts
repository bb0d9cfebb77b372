import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    /** Where all chance of this test run comes from. */
    seed: number;
  }
}

/**
 * One seed a run, printed before anything else. It stands still, so that a suite that turns red does so
 * because of a change; `SEED=… npm run unit` makes other choices, `SEED=$RANDOM` goes looking.
 */
const USUAL = 20_261;

export function setup(project: TestProject): void {
  const seed = Number(process.env["SEED"] ?? USUAL);
  if (!Number.isSafeInteger(seed)) throw new Error(`SEED=${process.env["SEED"]} is no whole number`);
  console.log(`SEED=${seed}`);
  project.provide("seed", seed);
  // For what a test starts beside itself.
  process.env["SEED"] = String(seed);
}
