import type { RawRunStore } from "../../app/storage/raw-run-store.ts";

/** What a platform does to a store. */
export const STORE_FAULTS = [
  /** The operation never ends and nothing was written. */
  "hang",
  /** It never ends, though what it wrote is there. */
  "hang-after-write",
  /** The connection is gone: everything fails until a new one is opened. */
  "lost-connection",
  "quota",
  /** It says that it failed, though what it wrote is there. */
  "fails-after-write",
  /** No connection can be opened at all. */
  "unopenable",
] as const;
export type StoreFault = (typeof STORE_FAULTS)[number];

export type FaultyStore = RawRunStore & {
  /** The next so many appends or probes meet this fault. */
  readonly strike: (fault: StoreFault, times?: number) => void;
  readonly heal: () => void;
  /** The process is gone: nothing that was under way ever answers, and nothing more is written. */
  readonly kill: () => void;
  /** What to do right before or right after the next append reaches the disk. */
  readonly onAppend: (when: "before" | "after", then: () => void) => void;
};

const never = <T>(): Promise<T> => new Promise<T>(() => {});

const named = (name: string, message: string): Error => Object.assign(new Error(message), { name });

/** A store that fails as platforms do, in front of a sound one. */
export const faultyStore = (sound: RawRunStore): FaultyStore => {
  let fault: StoreFault | undefined;
  let left = 0;
  let connected = true;
  let dead = false;
  let before: (() => void) | undefined;
  let after: (() => void) | undefined;

  const heal = (): void => {
    fault = undefined;
    left = 0;
    connected = true;
  };

  const meet = async <T>(work: () => Promise<T>): Promise<T> => {
    if (dead) return never();
    if (!connected) throw named("InvalidStateError", "the connection is closing");
    const struck = left > 0 ? fault : undefined;
    if (struck) left -= 1;
    switch (struck) {
      case undefined:
        return work();
      case "hang":
        return never();
      case "hang-after-write":
        await work();
        return never();
      case "lost-connection":
        connected = false;
        throw named("UnknownError", "Connection to Indexed Database server lost");
      case "quota":
        throw named("QuotaExceededError", "no room");
      case "fails-after-write":
        await work();
        throw named("AbortError", "the transaction was aborted");
      case "unopenable":
        throw named("UnknownError", "Internal error opening backing store");
    }
  };

  return {
    create: (...args) => meet(() => sound.create(...args)),
    append: (entry) =>
      meet(async () => {
        before?.();
        before = undefined;
        if (dead) return never();
        const added = await sound.append(entry);
        after?.();
        after = undefined;
        return dead ? never() : added;
      }),
    // A store that cannot be opened cannot be read either; the passing faults spare a read.
    read: (log) => (left > 0 && fault === "unopenable" ? meet(() => sound.read(log)) : sound.read(log)),
    list: sound.list,
    probe: () => meet(sound.probe),
    drop: () => {
      connected = true;
    },
    isBlocked: () => false,
    strike: (next, times = 1) => {
      fault = next;
      left = times;
    },
    heal,
    kill: () => {
      dead = true;
    },
    onAppend: (when, then) => {
      if (when === "before") before = then;
      else after = then;
    },
  };
};
