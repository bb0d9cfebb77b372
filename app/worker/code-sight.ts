import type { CodeSight } from "../ports.ts";
import { createBridge, type WorkerLike } from "./bridge.ts";
import type { CodeTasks } from "./read-code.ts";

/** Code reading behind a worker of its own; started with the first picture, let go when idle. */
export function codeSight(
  spawn: () => WorkerLike = () =>
    new Worker(new URL("./code-worker.ts", import.meta.url), { type: "module", name: "codes" }),
): CodeSight {
  const { ask } = createBridge<CodeTasks>(spawn);
  return { read: (picture, work) => ask("read", picture, { ...work, transfer: [picture.data.buffer] }) };
}
