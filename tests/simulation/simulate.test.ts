import { expect, inject, test } from "vitest";
import { crashEverywhere } from "./crash-everywhere.ts";
import { nextMove } from "./crew.ts";
import { runSimulation } from "./simulate.ts";
import { start, World } from "./world.ts";

test("a crew that follows the screen takes a run from preparing to closed, nothing refused", async () => {
  const world = new World();
  const run = await start(world.page());
  for (let move = nextMove(run.view(), run.now()); move; move = nextMove(run.view(), run.now())) {
    await world.time.pass(move.after_ms);
    const outcome = await run.send(move.event, { by: move.by });
    expect(outcome, JSON.stringify(move.event)).toEqual({ kind: "accepted" });
  }
  expect(run.view().snapshot.state).toBe("closed");
  expect(run.view().entries.map(({ event }) => event.type)).not.toContain("refused");
});

test("killed around every write of a full run, nothing acknowledged is lost and nothing is taken as proved", async () => {
  const crashed = await crashEverywhere(40);
  console.log(`${crashed.crashes} crashes, ${crashed.finished} brought to the end of their run`);
  expect(crashed.violations).toEqual([]);
  expect(crashed.crashes).toBeGreaterThan(180);
  expect(crashed.finished).toBeGreaterThan(3);
}, 120_000);

test("through faults of every kind nothing acknowledged is lost, and every run still reaches its end", async () => {
  const simulated = await runSimulation(inject("seed"), 8);
  console.log(JSON.stringify(simulated));
  expect(simulated.violations).toEqual([]);
  expect(simulated.closed).toBe(simulated.runs);
}, 120_000);
