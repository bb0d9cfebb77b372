import type { TestProject } from "vitest/node";

declare module "vitest" {
  interface ProvidedContext {
    /** Where all chance of this test run comes from. */
    seed: number;
  }
}

/** One seed a run, printed before anything else: `SEED=… npm run unit` repeats every random choice of that run. */
export function setup(project: TestProject): void {
  const given = process.env["SEED"];
  const seed = given === undefined ? Math.floor(Math.random() * 2 ** 31) : Number(given);
  if (!Number.isSafeInteger(seed)) throw new Error(`SEED=${given} is no whole number`);
  console.log(`SEED=${seed}`);
  project.provide("seed", seed);
  // For what a test starts beside itself.
  process.env["SEED"] = String(seed);
}
