import { type Move, nextMove } from "./crew.ts";
import { RunWatch } from "./watch-run.ts";
import { open, start, World } from "./world.ts";

export type Crashed = {
  readonly crashes: number;
  readonly finished: number;
  readonly violations: readonly string[];
};

/** What is left at one moment of the run, and what had been said by then. */
type Moment = { readonly where: string; readonly left: World; readonly watch: RunWatch };

/** Plays the nominal run once and keeps what a dead process would leave around every single write. */
const momentsOfRun = async (): Promise<readonly Moment[]> => {
  const world = new World();
  const watch = new RunWatch(world);
  const page = world.page();
  const run = await start(page);
  const moments: Moment[] = [];
  const keep = (where: string): void => {
    const left = new World(world);
    moments.push({ where, left, watch: new RunWatch(left, watch) });
  };
  for (let move = nextMove(run.view(), run.now()); move; move = nextMove(run.view(), run.now())) {
    const { event, by, after_ms }: Move = move;
    await world.time.pass(after_ms);
    page.store.onAppend("before", () => keep(`before ${event.type} was written`));
    page.store.onAppend("after", () => keep(`after ${event.type} was written`));
    const outcome = await watch.send(run, event, by);
    if (outcome.kind !== "accepted") throw new Error(`the nominal run stopped: ${JSON.stringify(outcome)}`);
    keep(`after ${event.type} was accepted`);
  }
  if (watch.violations.length > 0) throw new Error(watch.violations.join("; "));
  return moments;
};

const finish = async (
  world: World,
  watch: RunWatch,
  run: Awaited<ReturnType<typeof open>>,
): Promise<boolean> => {
  for (let moves = 0; moves < 400; moves++) {
    const move = nextMove(run.view(), run.now());
    if (!move) break;
    await world.time.pass(move.after_ms);
    await watch.send(run, move.event, move.by);
  }
  watch.checkLog();
  return run.view().snapshot.state === "closed";
};

/**
 * Kills the process before, right after and once more after every write of a full run; each time a
 * new page opens what is left.
 * @param finishEvery  of so many crashes one goes on to the end of its run
 */
export const crashEverywhere = async (finishEvery: number): Promise<Crashed> => {
  const moments = await momentsOfRun();
  const violations: string[] = [];
  let finished = 0;
  for (const [i, { where, left, watch }] of moments.entries()) {
    const run = await open(left.page());
    watch.attach(run);
    watch.checkReopened(run);
    watch.checkLog();
    if (i % finishEvery === 0) {
      if (await finish(left, watch, run)) finished += 1;
      else watch.violations.push("the run could not be brought to its end");
    }
    violations.push(...watch.violations.map((what) => `killed ${where}: ${what}`));
  }
  return { crashes: moments.length, finished, violations };
};
