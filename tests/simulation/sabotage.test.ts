import { expect, test } from "vitest";
import { ok } from "../../core/result.ts";
import { runSimulation } from "./simulate.ts";
import type { Sabotage } from "./world.ts";

/** A simulation that cannot fail proves nothing: each of these breaks one promise that the session rests on. */
const broken: readonly { readonly what: string; readonly finds: RegExp; readonly sabotage: Sabotage }[] = [
  {
    what: "a store that says yes before it has written",
    finds: /accepted and is not on the disk|shown before it was written/,
    sabotage: (ports) => ({ ...ports, store: { ...ports.store, append: async () => ok(undefined) } }),
  },
  {
    what: "a second copy that forgets what is pending",
    finds: /shown as pending and is lost/,
    sabotage: (ports) => ({ ...ports, journal: { ...ports.journal, setPending: () => ok(undefined) } }),
  },
  {
    what: "a second copy that keeps nothing",
    finds: /was accepted and is lost/,
    sabotage: (ports) => ({ ...ports, journal: { ...ports.journal, keep: () => ok(undefined) } }),
  },
  {
    what: "a lock that lets everybody write",
    finds: /two pages wrote at once/,
    sabotage: (ports) => ({ ...ports, lock: { take: () => ports.lock.take("takeover") } }),
  },
];

test.each(broken)(
  "the simulation sees $what",
  async ({ finds, sabotage }) => {
    const attempt = runSimulation(11, 4, sabotage).then(({ violations }) => violations.join("\n"));
    await expect(attempt).resolves.toMatch(finds);
  },
  60_000,
);
