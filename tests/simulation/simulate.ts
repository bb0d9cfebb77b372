import { type Chance, chance } from "../../app/demo/term/chance.ts";
import type { LiveRun, SendOutcome } from "../../app/session/live-run.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { nextMove } from "./crew.ts";
import { STORE_FAULTS } from "./faulty-store.ts";
import { breathe } from "./virtual-time.ts";
import { RunWatch } from "./watch-run.ts";
import { open, openPatiently, type Page, type Sabotage, start, World } from "./world.ts";

/** What a simulation did and found: `violations` must be empty, `closed` must be all of `runs`. */
export type Simulated = {
  readonly runs: number;
  readonly closed: number;
  readonly moves: number;
  readonly entries: number;
  /** Release permissions given: a session that refuses everything must fail. */
  readonly releases: number;
  readonly faults: number;
  /** How often each fault struck, by name. */
  readonly faultsByName: Readonly<Record<string, number>>;
  readonly violations: readonly string[];
};

/** After so many moves the world turns kind, and the run must reach its end. */
const MOVES_WITH_FAULTS = 120;
const MOVES_AT_MOST = 1200;

const REPORTS: readonly SequenceEvent[] = [
  { type: "hold-called", why: "a dog on the field" },
  { type: "hold-called", why: "gust" },
  { type: "line-crossed" },
  { type: "restraint-seen-open", restraint: "A" },
  { type: "noted", text: "gusts from the west" },
  { type: "leak-seen" },
];
/** Ends most runs before their release: rarer, so that releases are reached. */
const MAKE_SAFE: SequenceEvent = { type: "make-safe-called", why: "thunder" };

const pick = <T>(luck: Chance, from: readonly T[]): T => {
  const one = from[Math.floor(luck.next() * from.length)];
  if (one === undefined) throw new Error("nothing to pick from");
  return one;
};

/** One device, one run, one crew that follows the screen, and a world that fails all the time. */
class Simulation {
  readonly world: World;
  readonly watch: RunWatch;
  readonly faults: Record<string, number> = {};
  moves = 0;
  readonly #luck: Chance;
  /** How often the world strikes, for each move: some runs see little, some nothing else. */
  readonly #rate: number;
  /** With a port broken on purpose one violation is enough. */
  readonly #stopAtFirst: boolean;
  #page: Page;
  #run: LiveRun | undefined;

  constructor(seed: number, sabotage?: Sabotage) {
    this.world = new World(undefined, sabotage);
    this.watch = new RunWatch(this.world);
    this.#stopAtFirst = sabotage !== undefined;
    this.#luck = chance(seed);
    this.#rate = this.#luck.between(0.01, 0.35);
    this.#page = this.world.page();
  }

  get state(): string {
    return this.#run?.view().snapshot.state ?? "not opened";
  }

  async play(): Promise<void> {
    this.#run = await start(this.#page);
    this.watch.attach(this.#run);
    while (this.moves < MOVES_AT_MOST && !(this.#stopAtFirst && this.watch.violations.length > 0)) {
      if (this.moves === MOVES_WITH_FAULTS) await this.#heal();
      const move = nextMove(this.#live.view(), this.#live.now());
      if (!move) break;
      this.moves += 1;
      await this.world.time.pass(move.after_ms);
      if (this.moves < MOVES_WITH_FAULTS && this.#luck.next() < this.#rate) await this.#strike();
      await this.#send(move.event, move.by);
    }
    if (this.#stopAtFirst && this.watch.violations.length > 0) return;
    await this.#heal();
    this.watch.checkLog();
  }

  get #live(): LiveRun {
    if (!this.#run) throw new Error("no run is open");
    return this.#run;
  }

  /** Sends and lets as much time pass as the answer takes; a process that was killed never answers. */
  async #send(event: SequenceEvent, by: string): Promise<SendOutcome | undefined> {
    const run = this.#live;
    let outcome: SendOutcome | undefined;
    void this.watch.send(run, event, by).then((given) => {
      outcome = given;
    });
    if (this.#luck.next() < 0.05) void run.send(event, { by });
    await breathe();
    for (let i = 0; i < 12 && outcome === undefined && run === this.#run; i++) {
      if (this.#luck.next() < 0.3 && this.moves < MOVES_WITH_FAULTS)
        void this.watch.send(run, pick(this.#luck, REPORTS), by);
      await this.world.time.pass(3100);
    }
    if (outcome === undefined && run === this.#run)
      this.watch.violations.push(`${event.type} was never answered`);
    return outcome;
  }

  async #strike(): Promise<void> {
    const kinds = [
      this.#storeFault,
      this.#storeFault,
      this.#storeFault,
      this.#kill,
      this.#killWhilePending,
      this.#clock,
      this.#away,
      this.#report,
      this.#secondTab,
      this.#lostTail,
    ];
    await pick(this.#luck, kinds).call(this);
  }

  #count(fault: string): void {
    this.faults[fault] = (this.faults[fault] ?? 0) + 1;
  }

  async #storeFault(): Promise<void> {
    const fault = pick(this.#luck, STORE_FAULTS);
    this.#count(fault);
    this.#page.store.strike(fault, 1 + Math.floor(this.#luck.next() * 4));
  }

  /** Kills the process before or after the next write reaches the disk, and opens the run again. */
  async #kill(): Promise<void> {
    const when = pick(this.#luck, ["before", "after"] as const);
    this.#count(`kill-${when}-write`);
    const page = this.#page;
    page.store.onAppend(when, () => this.world.kill(page));
    const move = nextMove(this.#live.view(), this.#live.now());
    if (move) void this.watch.send(this.#live, move.event, move.by);
    await this.world.time.pass(10);
    this.world.kill(page);
    await this.#reopen();
  }

  /** Something is said and shown while the store does not answer, and then the process dies. */
  async #killWhilePending(): Promise<void> {
    this.#count("kill-while-pending");
    this.#page.store.strike(pick(this.#luck, ["hang", "quota", "lost-connection"] as const), 4);
    void this.watch.send(this.#live, pick(this.#luck, REPORTS), this.#live.now().by);
    await this.world.time.pass(this.#luck.between(0, 7000));
    this.world.kill(this.#page);
    await this.#reopen();
  }

  async #reopen(): Promise<void> {
    this.#page = this.world.page();
    // Now and then the store cannot be opened for a while: the second copy must carry the page.
    if (this.#luck.next() < 0.25) {
      this.#count("unopenable-at-start");
      this.#page.store.strike("unopenable", 2 + Math.floor(this.#luck.next() * 4));
    }
    this.#run = await openPatiently(this.world, this.#page);
    this.watch.attach(this.#run);
    this.watch.checkReopened(this.#run);
  }

  async #clock(): Promise<void> {
    this.#count("clock-jump");
    this.world.time.wall_ms += this.#luck.between(-600_000, 600_000);
  }

  async #away(): Promise<void> {
    this.#count("sleep");
    this.#page.told("hidden");
    if (this.#luck.next() < 0.5) this.world.time.sleep(this.#luck.between(0, 900_000));
    else await this.world.time.pass(this.#luck.between(0, 300_000));
    this.#page.told("visible");
    await this.world.time.pass(100);
  }

  async #report(): Promise<void> {
    this.#count("report");
    const report = this.#luck.next() < 0.1 ? MAKE_SAFE : pick(this.#luck, REPORTS);
    await this.#send(report, this.#live.now().by);
  }

  /** A second page looks on, takes over, and goes on; the first one must notice. */
  async #secondTab(): Promise<void> {
    this.#count("second-tab");
    const first = this.#live;
    const second = this.world.page();
    const viewer = await open(second);
    if (viewer.view().writer) this.watch.violations.push("two pages wrote at once");
    if (this.#luck.next() < 0.5) {
      viewer.leave();
      return;
    }
    // The first page may be in the middle of a write when it loses the lock.
    const move = nextMove(first.view(), first.now());
    if (move) void this.watch.send(first, move.event, move.by);
    const taken = await viewer.takeOver();
    await breathe();
    if (!taken.ok) this.watch.violations.push("a take-over of a sound store failed");
    if (first.view().writer) this.watch.violations.push("the first page still thought that it wrote");
    first.leave();
    this.#page = second;
    this.#run = viewer;
    this.watch.attach(viewer);
    await this.world.time.pass(10);
    this.watch.checkReopened(viewer);
  }

  /** Power cut on a store whose writes were only relaxed: its end is gone, the second copy has it. */
  async #lostTail(): Promise<void> {
    this.#count("lost-tail");
    this.world.kill(this.#page);
    this.world.loseTail(1 + Math.floor(this.#luck.next() * 3));
    await this.#reopen();
  }

  async #heal(): Promise<void> {
    this.#page.store.heal();
    const healed = this.#live.retry();
    await this.world.time.pass(7000);
    await healed;
  }
}

/**
 * Plays whole runs through the real session, each with its own faults.
 * @param seed  decides everything: the same seed finds the same violations
 * @param sabotage  a port that is broken on purpose: then violations are what is wanted
 */
export const runSimulation = async (seed: number, runs: number, sabotage?: Sabotage): Promise<Simulated> => {
  const faultsByName: Record<string, number> = {};
  const violations: string[] = [];
  let closed = 0;
  let moves = 0;
  let entries = 0;
  let releases = 0;
  for (let i = 0; i < runs; i++) {
    const own = seed + 7919 * i;
    const one = new Simulation(own, sabotage);
    await one.play();
    for (const [fault, times] of Object.entries(one.faults))
      faultsByName[fault] = (faultsByName[fault] ?? 0) + times;
    violations.push(...one.watch.violations.map((what) => `seed ${own}: ${what}`));
    if (one.state === "closed") closed += 1;
    else violations.push(`seed ${own}: the run never reached its end, it stood in ${one.state}`);
    moves += one.moves;
    entries += one.world.written().length;
    releases += one.world.written().filter(({ event }) => event.type === "release-called").length;
  }
  const faults = Object.values(faultsByName).reduce((sum, times) => sum + times, 0);
  return { runs, closed, moves, entries, releases, faults, faultsByName, violations };
};
