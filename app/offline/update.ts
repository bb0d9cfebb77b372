import { runWriterLock, type UpdateControl, type UpdateState } from "../ports.ts";

/** How long a new worker gets to take over. WebKit does not always say that it did (vite-pwa#937). */
export const takeOverLimit_ms = 4000;

/** What the control needs of the browser, handed in so that every order of events can be tested. */
export interface UpdateWorld {
  locks: Pick<LockManager, "query" | "request">;
  skipWaiting(): void;
  /** Returns the way to stop listening. */
  onControllerChange(listener: () => void): () => void;
  delay(ms: number): Promise<void>;
  reload(): void;
}

export interface UpdateHandle extends UpdateControl {
  /** Looks again whether a run is open: locks have no event of their own. */
  recheck(): Promise<void>;
  /** Told by the registration when a new worker stands ready. */
  workerWaits(): Promise<void>;
  /** Told when this tab can no longer trust what it has loaded: another tab updated. */
  replacedElsewhere(): void;
}

export function controlUpdates(world: UpdateWorld): UpdateHandle {
  let state: UpdateState = "current";
  let applying = false;
  const listeners = new Set<(state: UpdateState) => void>();

  function become(next: UpdateState): void {
    if (next === state) return;
    state = next;
    for (const listener of listeners) listener(state);
  }

  async function look(): Promise<void> {
    const open = await runIsOpen(world.locks);
    // Another tab may have finished the update while the question was out; "replaced" is then the later truth.
    if (state !== "replaced") become(open ? "waits-for-run" : "ready");
  }

  async function apply() {
    if (state === "current") return "nothing-waiting" as const;
    if (state === "replaced") {
      world.reload();
      return "reloading" as const;
    }
    // Held until the page is gone: no tab can open a run between the question and the change.
    return world.locks.request(runWriterLock, { ifAvailable: true }, async (lock) => {
      if (!lock) {
        become("waits-for-run");
        return "run-open" as const;
      }
      applying = true;
      await takeOver(world);
      world.reload();
      return "reloading" as const;
    });
  }

  return {
    state: () => state,
    subscribe(listener) {
      listeners.add(listener);
      listener(state);
      return () => listeners.delete(listener);
    },
    apply,
    async recheck() {
      if (state === "ready" || state === "waits-for-run") await look();
    },
    workerWaits: look,
    replacedElsewhere() {
      if (!applying) become("replaced");
    },
  };
}

async function runIsOpen(locks: Pick<LockManager, "query">): Promise<boolean> {
  const { held = [] } = await locks.query();
  return held.some((lock) => lock.name === runWriterLock);
}

/** Resolves when the new worker has taken over, or when it had its time: the page reloads once either way. */
async function takeOver(world: UpdateWorld): Promise<void> {
  let stop = () => {};
  const changed = new Promise<void>((resolve) => {
    stop = world.onControllerChange(resolve);
  });
  world.skipWaiting();
  await Promise.race([changed, world.delay(takeOverLimit_ms)]);
  stop();
}
