import { expect, test, vi } from "vitest";
import { createBridge, type FromWorker, type ToWorker, type WorkerLike } from "../../../app/worker/bridge.ts";

type Tasks = { readonly double: { readonly takes: number; readonly gives: number } };

/** Answers when told to, and remembers what it was asked and whether it was ended. */
function standIn() {
  const workers: (WorkerLike & { asked: ToWorker[]; ended: boolean; say: (message: FromWorker) => void })[] =
    [];
  const spawn = () => {
    const made: (typeof workers)[number] = {
      asked: [],
      ended: false,
      onmessage: null,
      onerror: null,
      postMessage: (message) => {
        made.asked.push(message);
      },
      terminate: () => {
        made.ended = true;
      },
      say: (data) => made.onmessage?.({ data } as MessageEvent<FromWorker>),
    };
    workers.push(made);
    return made;
  };
  return { spawn, workers };
}

const done = (id: number, value: unknown): FromWorker => ({ id, kind: "done", value });

test("asks one thing at a time and in order, on one worker", async () => {
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn);
  const first = bridge.ask("double", 1);
  const second = bridge.ask("double", 2);
  expect(workers[0]!.asked.map(({ input }) => input)).toEqual([1]);
  workers[0]!.say(done(1, 2));
  expect(await first).toBe(2);
  expect(workers[0]!.asked.map(({ input }) => input)).toEqual([1, 2]);
  workers[0]!.say(done(2, 4));
  expect(await second).toBe(4);
  expect(workers.length).toBe(1);
});

test("an abort ends the worker that computes, and what waits behind it goes to a fresh one", async () => {
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn);
  const stop = new AbortController();
  const first = bridge.ask("double", 1, { signal: stop.signal });
  const second = bridge.ask("double", 2);
  stop.abort();
  await expect(first).rejects.toThrow("aborted");
  expect(workers[0]!.ended).toBe(true);
  workers[1]!.say(done(2, 4));
  expect(await second).toBe(4);
});

test("what is aborted while it waits is never asked, and disturbs nobody", async () => {
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn);
  const stop = new AbortController();
  const first = bridge.ask("double", 1);
  const second = bridge.ask("double", 2, { signal: stop.signal });
  stop.abort();
  await expect(second).rejects.toThrow("aborted");
  workers[0]!.say(done(1, 2));
  expect(await first).toBe(2);
  expect(workers[0]!.asked.length).toBe(1);
  expect(workers[0]!.ended).toBe(false);
});

test("an answer that comes after the abort is not taken for that of the next task", async () => {
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn);
  const stop = new AbortController();
  const first = bridge.ask("double", 1, { signal: stop.signal });
  stop.abort();
  await expect(first).rejects.toThrow();
  const second = bridge.ask("double", 2);
  workers[0]!.say(done(1, 2));
  workers[1]!.say(done(2, 4));
  expect(await second).toBe(4);
});

test("progress reaches who asked; a broken task rejects and the queue goes on", async () => {
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn);
  const parts: number[] = [];
  const first = bridge.ask("double", 1, { onProgress: (part) => parts.push(part) });
  const second = bridge.ask("double", 2);
  workers[0]!.say({ id: 1, kind: "progress", part: 0.5 });
  workers[0]!.say({ id: 1, kind: "broken", why: "lengths differ" });
  await expect(first).rejects.toThrow("lengths differ");
  workers[0]!.say(done(2, 4));
  expect(await second).toBe(4);
  expect(parts).toEqual([0.5]);
});

test("a worker that cannot be started says so instead of hanging", async () => {
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn);
  const first = bridge.ask("double", 1);
  workers[0]!.onerror?.({ message: "" } as ErrorEvent);
  await expect(first).rejects.toThrow("could not be started");
});

test("an idle worker is let go", async () => {
  vi.useFakeTimers();
  const { spawn, workers } = standIn();
  const bridge = createBridge<Tasks>(spawn, 1000);
  const first = bridge.ask("double", 1);
  workers[0]!.say(done(1, 2));
  await first;
  vi.advanceTimersByTime(1001);
  vi.useRealTimers();
  expect(workers[0]!.ended).toBe(true);
});
