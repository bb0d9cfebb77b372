import { HERON } from "../../app/demo/documents.ts";
import type { WriterLock } from "../../app/ports.ts";
import type { LiveRun, SessionPorts } from "../../app/session/live-run.ts";
import { openRun, startRun } from "../../app/session/open-run.ts";
import { createLocalJournal, memoryTextKeeper } from "../../app/storage/local-journal.ts";
import {
  createMemoryRunStore,
  emptyMemoryRuns,
  type MemoryRuns,
} from "../../app/storage/memory-run-store.ts";
import { watchStore } from "../../app/storage/watch-store.ts";
import type { Entry } from "../../core/record/entry.ts";
import type { Result } from "../../core/result.ts";
import { type FaultyStore, faultyStore } from "./faulty-store.ts";
import { breathe, VirtualTime } from "./virtual-time.ts";

export const documents = HERON;
export const LOG = "log1";
export const CODE = "H-329-01";

/** One page on the device: its own faults, its own life. */
export type Page = {
  readonly store: FaultyStore;
  readonly ports: SessionPorts;
  readonly told: (change: "hidden" | "visible" | "touched") => void;
};

export type Sabotage = (ports: SessionPorts) => SessionPorts;

/** A device: what survives a kill (disk, second copy, lock server) and the pages that come and go. */
export class World {
  readonly time = new VirtualTime();
  readonly disk: MemoryRuns;
  readonly texts: Map<string, string>;
  readonly #locks = lockServer();
  #sessions: number;

  readonly #sabotage: Sabotage;

  /**
   * @param left  a device whose process dies right now: what survives of it
   * @param sabotage  breaks a page's ports, to show that the simulation sees it
   */
  constructor(left?: World, sabotage: Sabotage = (ports) => ports) {
    this.#sabotage = sabotage;
    this.disk = left ? structuredClone(left.disk) : emptyMemoryRuns();
    this.texts = new Map(left?.texts);
    this.#sessions = left ? left.#sessions : 0;
    this.time.wall_ms += left ? left.time.mono_ms : 0;
  }

  page(): Page {
    this.#sessions += 1;
    const store = faultyStore(createMemoryRunStore(this.disk));
    const watchers = new Set<(change: "hidden" | "visible" | "touched") => void>();
    const ports: SessionPorts = {
      store: watchStore(store, this.time.timer),
      journal: createLocalJournal(memoryTextKeeper(this.texts)),
      clock: this.time.clock(`session${this.#sessions}`),
      lock: this.#locks,
      timer: this.time.timer,
      presence: {
        watch: (told) => {
          watchers.add(told);
          return () => watchers.delete(told);
        },
      },
      device: "phone1",
    };
    const told = (change: "hidden" | "visible" | "touched"): void => {
      for (const watcher of [...watchers]) watcher(change);
    };
    return { store, ports: this.#sabotage(ports), told };
  }

  /** The entries on the disk, whatever any page believes. */
  written(): readonly Entry[] {
    return this.disk.entries.get(LOG) ?? [];
  }

  isJournaled(hash: string): boolean {
    return [...this.texts.values()].some((text) => text.includes(hash));
  }

  /** The last so many entries were never on the disk after all. */
  loseTail(count: number): void {
    const entries = this.written();
    this.disk.entries.set(LOG, entries.slice(0, Math.max(1, entries.length - count)));
  }

  /** The browser process is killed: pages, timers and locks are gone at once; disk and second copy stay. */
  kill(...pages: readonly Page[]): void {
    for (const page of pages) page.store.kill();
    this.time.killTimers();
    this.#locks.killAll();
  }
}

const lockServer = (): WriterLock & { readonly killAll: () => void } => {
  let holder: { readonly lose: () => void } | undefined;
  return {
    take: async (over) => {
      if (holder && over !== "takeover")
        return { granted: false, release: () => {}, lost: new Promise(() => {}) };
      holder?.lose();
      let lose = (): void => {};
      const lost = new Promise<void>((resolve) => {
        lose = resolve;
      });
      const mine = { lose };
      holder = mine;
      return {
        granted: true,
        lost,
        release: () => {
          if (holder === mine) holder = undefined;
        },
      };
    },
    killAll: () => {
      holder = undefined;
    },
  };
};

const must = (opened: Result<LiveRun>): LiveRun => {
  if (!opened.ok) throw new Error(opened.issues.map(({ code, detail }) => `${code}: ${detail}`).join("; "));
  return opened.value;
};

export const start = async (page: Page): Promise<LiveRun> => {
  const run = { documents, code: CODE, log: LOG, drill: false, transcribed: false, software: "test" };
  return must(await startRun(page.ports, run));
};

export const open = async (page: Page): Promise<LiveRun> => {
  const run = must(await openRun(page.ports, LOG));
  await breathe();
  return run;
};

/** As `open`, for a store that may be out of reach and a second copy that may have a gap. */
export const openPatiently = async (world: World, page: Page): Promise<LiveRun> => {
  for (let tries = 0; tries < 10; tries++) {
    let opened: Result<LiveRun> | undefined;
    void openRun(page.ports, LOG).then((found) => {
      opened = found;
    });
    await world.time.pass(7000);
    if (opened?.ok) return opened.value;
  }
  throw new Error("the run could not be opened, though the store had healed");
};
