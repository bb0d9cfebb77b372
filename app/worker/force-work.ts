import type { ForceWork } from "../ports.ts";
import { createBridge, type WorkerLike } from "./bridge.ts";
import type { ForceTasks } from "./force-tasks.ts";

/** The force work behind a worker of its own; started with the first file, let go when idle. */
export function forceWork(
  spawn: () => WorkerLike = () =>
    new Worker(new URL("./force-worker.ts", import.meta.url), { type: "module", name: "force" }),
): ForceWork {
  const { ask } = createBridge<ForceTasks>(spawn);
  return {
    read: (source, options, work) => ask("read", { source, options }, work),
    reduce: (source, request, work) => ask("reduce", { source, request }, work),
    curves: (source, request, view, work) => ask("curves", { source, request, view }, work),
    fit: (source, request, event, work) => ask("fit", { source, request, event }, work),
  };
}
