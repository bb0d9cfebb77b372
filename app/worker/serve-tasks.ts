import type { FromWorker, TaskTable, ToWorker } from "./bridge.ts";

/** Runs inside a worker: asks come in, progress and answers go out. Our own mistakes are caught here and said. */
type WorkerPlace = {
  onmessage: ((event: MessageEvent<ToWorker>) => void) | null;
  postMessage(message: FromWorker): void;
};

export type Handlers<Tasks extends TaskTable> = {
  readonly [Task in keyof Tasks]: (
    input: Tasks[Task]["takes"],
    report: (part: number) => void,
  ) => Tasks[Task]["gives"] | Promise<Tasks[Task]["gives"]>;
};

/** As often as a bar on a screen is worth moving. */
const leastStep = 0.01;

export function serveTasks<Tasks extends TaskTable>(
  handlers: Handlers<Tasks>,
  place = globalThis as unknown as WorkerPlace,
): void {
  place.onmessage = async ({ data: { id, task, input } }) => {
    let told = 0;
    const report = (part: number) => {
      if (part < told + leastStep) return;
      told = part;
      place.postMessage({ id, kind: "progress", part });
    };
    try {
      const handler = handlers[task] as (input: unknown, report: (part: number) => void) => unknown;
      place.postMessage({ id, kind: "done", value: await handler(input, report) });
    } catch (fault) {
      place.postMessage({ id, kind: "broken", why: fault instanceof Error ? fault.message : String(fault) });
    }
  };
}
