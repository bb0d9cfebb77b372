import type { FromWorker, ToWorker } from "./bridge.ts";
import { forceTasks } from "./force-tasks.ts";

/** Runs inside the worker: asks come in, progress and answers go out. Our own mistakes are caught here and said. */
type WorkerPlace = {
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
  postMessage(message: FromWorker): void;
};
const place = globalThis as unknown as WorkerPlace;
const tasks = forceTasks();
/** As often as a bar on a screen is worth moving. */
const leastStep = 0.01;

place.onmessage = async ({ data: { id, task, input } }) => {
  let told = 0;
  const report = (part: number) => {
    if (part < told + leastStep) return;
    told = part;
    place.postMessage({ id, kind: "progress", part });
  };
  try {
    const handler = tasks[task as keyof typeof tasks] as (
      input: unknown,
      report: (part: number) => void,
    ) => unknown;
    place.postMessage({ id, kind: "done", value: await handler(input, report) });
  } catch (fault) {
    place.postMessage({ id, kind: "broken", why: fault instanceof Error ? fault.message : String(fault) });
  }
};
