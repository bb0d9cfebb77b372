import { expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { createMemoryRunStore, emptyMemoryRuns } from "../../../app/storage/memory-run-store.ts";
import type { RawRunStore } from "../../../app/storage/raw-run-store.ts";
import { WATCHDOG_MS, watchStore } from "../../../app/storage/watch-store.ts";
import type { Entry } from "../../../core/record/entry.ts";
import type { Result } from "../../../core/result.ts";
import { SHORT_LOG } from "../../core/record/short-log.ts";
import { faultyStore, type StoreFault } from "../../simulation/faulty-store.ts";
import { VirtualTime } from "../../simulation/virtual-time.ts";

const entry = SHORT_LOG[0] as Entry;

const setUp = (over: Partial<RawRunStore> = {}) => {
  const time = new VirtualTime();
  const kept = emptyMemoryRuns();
  const raw = faultyStore(createMemoryRunStore(kept));
  let drops = 0;
  const counted: RawRunStore = {
    ...raw,
    drop: () => {
      drops += 1;
      raw.drop();
    },
    ...over,
  };
  return { time, kept, raw, store: watchStore(counted, time.timer), drops: () => drops };
};

/** Waits as long as the answer takes, and says how long that was. */
const answered = async <T>(
  time: VirtualTime,
  work: Promise<Result<T>>,
): Promise<{ result: Result<T>; after_ms: number }> => {
  const start = time.mono_ms;
  let found: { result: Result<T>; after_ms: number } | undefined;
  void work.then((result) => {
    found = { result, after_ms: time.mono_ms - start };
  });
  for (let i = 0; i < 100 && !found; i++) await time.pass(100);
  if (!found) throw new Error("it was never answered");
  return found;
};

test("an operation that hangs once is tried again on a new connection after three seconds", async () => {
  const { time, raw, store, drops, kept } = setUp();
  raw.strike("hang");
  const { result, after_ms } = await answered(time, store.append(entry));
  expect(result.ok).toBe(true);
  expect(after_ms).toBe(WATCHDOG_MS);
  expect(drops()).toBe(1);
  expect(kept.entries.get("log1")).toEqual([entry]);
});

test("an operation that hangs twice is an issue after six seconds, never silence", async () => {
  const { time, raw, store } = setUp();
  raw.strike("hang", 2);
  const { result, after_ms } = await answered(time, store.append(entry));
  expect(result).toMatchObject({ ok: false, issues: [{ code: "store-timeout" }] });
  expect(after_ms).toBe(2 * WATCHDOG_MS);
});

test("an append that was written though it hung is found at the second try, and is there once", async () => {
  const { time, raw, store, kept } = setUp();
  raw.strike("hang-after-write");
  expect((await answered(time, store.append(entry))).result.ok).toBe(true);
  expect(kept.entries.get("log1")).toEqual([entry]);
});

test.each<[StoreFault, string]>([
  ["quota", "store-full"],
  ["unopenable", "store-unavailable"],
  ["hang", "store-timeout"],
])("%s, met twice, is %s, with something to do about it", async (fault, code) => {
  const { time, raw, store } = setUp();
  raw.strike(fault, 2);
  const { result } = await answered(time, store.append(entry));
  expect(result).toMatchObject({ ok: false, issues: [{ code }] });
  if (!result.ok) expect(result.issues[0]?.remedy).toMatch(/\w/);
});

test("a lost connection is opened anew at once and the same entry written", async () => {
  const { time, raw, store, kept } = setUp();
  raw.strike("lost-connection");
  const { result, after_ms } = await answered(time, store.append(entry));
  expect(result.ok).toBe(true);
  expect(after_ms).toBe(0);
  expect(kept.entries.get("log1")).toEqual([entry]);
});

test("a store that another page blocks says so, with the way out", async () => {
  const { time, store } = setUp({ isBlocked: () => true, probe: () => new Promise(() => {}) });
  const { result } = await answered(time, store.probe());
  expect(result).toMatchObject({ ok: false, issues: [{ code: "store-blocked" }] });
});

test("whatever is thrown becomes an issue, even what is no error", async () => {
  const { time, store } = setUp({ list: () => Promise.reject("odd") });
  expect((await answered(time, store.list())).result).toMatchObject({
    ok: false,
    issues: [{ code: "store-unavailable", detail: "the store failed: odd" }],
  });
});

test("create, read, list and probe are watched too", async () => {
  for (const name of ["create", "read", "list", "probe"] as const) {
    const { time, store } = setUp({ [name]: () => new Promise(() => {}) });
    const work = {
      create: () => store.create("log1", "H-329-01", HERON),
      read: () => store.read("log1"),
      list: () => store.list(),
      probe: () => store.probe(),
    }[name] as () => Promise<Result<unknown>>;
    expect((await answered(time, work())).result).toMatchObject({
      ok: false,
      issues: [{ code: "store-timeout" }],
    });
  }
});
