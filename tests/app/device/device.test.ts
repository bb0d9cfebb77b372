// @vitest-environment happy-dom
import { expect, test, vi } from "vitest";
import { createClock } from "../../../app/device/clock.ts";
import { createPresence } from "../../../app/device/presence.ts";
import { pageTimer } from "../../../app/device/timer.ts";
import { createWriterLock } from "../../../app/device/writer-lock.ts";

test("a stamp is whole milliseconds of the wall and whole tenths of the monotonic clock", () => {
  const clock = createClock("s1", { wall_ms: () => 1_780_000_000_123.4, mono_ms: () => 5000.06 });
  expect(clock.now()).toEqual({ at: 1_780_000_000_123, mono: 50_001, session: "s1" });
});

test("an input is stamped with its own time, on both clocks", () => {
  const clock = createClock("s1", { wall_ms: () => 1_780_000_000_000, mono_ms: () => 5000 });
  expect(clock.ofInput(4700)).toEqual({ at: 1_779_999_999_700, mono: 47_000, session: "s1" });
});

test("a time stamp from the future, or from another clock, counts as now", () => {
  const clock = createClock("s1", { wall_ms: () => 1_780_000_000_000, mono_ms: () => 5000 });
  expect(clock.ofInput(1_780_000_000_000)).toEqual(clock.now());
  expect(clock.ofInput(-1)).toEqual(clock.now());
});

test("the browser's own clocks give a stamp near now", () => {
  expect(Math.abs(createClock("s").now().at - Date.now())).toBeLessThan(1000);
});

test("the timer calls back once, and not at all when it was cancelled", () => {
  vi.useFakeTimers();
  const told = vi.fn();
  pageTimer.after(100, told);
  pageTimer.after(50, told)();
  vi.advanceTimersByTime(500);
  expect(told).toHaveBeenCalledTimes(1);
  vi.useRealTimers();
});

test("hiding, showing, freezing and touching are told until watching stops", () => {
  const seen: string[] = [];
  const stop = createPresence(document).watch((change) => void seen.push(change));
  Object.defineProperty(document, "hidden", { value: true, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
  Object.defineProperty(document, "hidden", { value: false, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
  document.dispatchEvent(new Event("freeze"));
  window.dispatchEvent(new Event("pagehide"));
  window.dispatchEvent(new Event("pageshow"));
  document.dispatchEvent(new Event("pointerdown"));
  document.dispatchEvent(new Event("keydown"));
  stop();
  document.dispatchEvent(new Event("pointerdown"));
  expect(seen).toEqual(["hidden", "visible", "hidden", "hidden", "visible", "touched", "touched"]);
});

/** Web Locks as the standard has them, for one name: what the adapter needs of them. */
const fakeLocks = (): LockManager => {
  let reject: ((fault: Error) => void) | undefined;
  return {
    request: (
      _name: string,
      options: LockOptions,
      hold: (lock: Lock | null) => Promise<void> | undefined,
    ) => {
      if (reject && !options.steal) return Promise.resolve(hold(null));
      reject?.(new DOMException("stolen", "AbortError"));
      return new Promise<void>((resolve, fail) => {
        const mine = (fault: Error): void => fail(fault);
        reject = mine;
        void Promise.resolve(hold({} as Lock)).then(() => {
          if (reject === mine) reject = undefined;
          resolve();
        });
      });
    },
    query: async () => ({}),
  } as unknown as LockManager;
};

test("one page writes: the next is refused until the first lets go", async () => {
  const lock = createWriterLock(fakeLocks());
  const first = await lock.take();
  expect(first.granted).toBe(true);
  expect((await lock.take()).granted).toBe(false);
  first.release();
  await Promise.resolve();
  await Promise.resolve();
  expect((await lock.take()).granted).toBe(true);
});

test("a take-over is granted, and whoever held the lock learns that it is lost", async () => {
  const lock = createWriterLock(fakeLocks());
  const first = await lock.take();
  const second = await lock.take("takeover");
  expect(second.granted).toBe(true);
  await expect(first.lost).resolves.toBeUndefined();
});

test("where a browser has no locks, nobody writes", async () => {
  const taken = await createWriterLock(undefined).take();
  expect(taken.granted).toBe(false);
  taken.release();
});
