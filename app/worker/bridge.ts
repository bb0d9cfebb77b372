/**
 * A queue in front of one worker: one task at a time, progress on the way, and an abort that ends the worker,
 * since nothing else stops a computation that runs. The next task starts a fresh one; an idle one is let go, so
 * that its memory is free while a person reads.
 */

/** What a worker can be asked: for each task what it takes and what it gives. */
export type TaskTable = { readonly [task: string]: { readonly takes: unknown; readonly gives: unknown } };

export type WorkOptions = {
  readonly signal?: AbortSignal;
  /** Part done, 0 to 1. */
  readonly onProgress?: (part: number) => void;
  readonly transfer?: readonly Transferable[];
};

export type Bridge<Tasks extends TaskTable> = {
  readonly ask: <Task extends keyof Tasks & string>(
    task: Task,
    input: Tasks[Task]["takes"],
    options?: WorkOptions,
  ) => Promise<Tasks[Task]["gives"]>;
};

export type ToWorker = { readonly id: number; readonly task: string; readonly input: unknown };
export type FromWorker =
  | { readonly id: number; readonly kind: "progress"; readonly part: number }
  | { readonly id: number; readonly kind: "done"; readonly value: unknown }
  /** Our own mistake inside the worker: what the world causes comes as a Result in `value`. */
  | { readonly id: number; readonly kind: "broken"; readonly why: string };

/** The part of Worker that is used, so that a test can stand in for it. */
export type WorkerLike = {
  postMessage(message: ToWorker, transfer: Transferable[]): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
};

type Job = ToWorker & {
  readonly options: WorkOptions;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: unknown) => void;
};

const idle_ms = 120_000;

export function createBridge<Tasks extends TaskTable>(
  spawn: () => WorkerLike,
  keepIdle_ms = idle_ms,
): Bridge<Tasks> {
  let worker: WorkerLike | undefined;
  let running: Job | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let lastId = 0;
  const waiting: Job[] = [];

  const letGo = () => {
    worker?.terminate();
    worker = undefined;
  };
  const next = () => {
    if (running) return;
    running = waiting.shift();
    clearTimeout(timer);
    if (!running) {
      timer = setTimeout(letGo, keepIdle_ms);
      return;
    }
    worker ??= started();
    const { id, task, input, options } = running;
    worker.postMessage({ id, task, input }, [...(options.transfer ?? [])]);
  };
  const finish = (settle: (job: Job) => void) => {
    const job = running;
    running = undefined;
    if (job) settle(job);
    next();
  };
  const started = (): WorkerLike => {
    const fresh = spawn();
    fresh.onmessage = ({ data }) => {
      if (data.id !== running?.id) return;
      if (data.kind === "progress") running.options.onProgress?.(data.part);
      else if (data.kind === "done") finish((job) => job.resolve(data.value));
      else finish((job) => job.reject(new Error(data.why)));
    };
    fresh.onerror = (event) => {
      letGo();
      finish((job) => job.reject(new Error(event.message || "the worker could not be started")));
    };
    return fresh;
  };
  const abort = (job: Job) => {
    const place = waiting.indexOf(job);
    if (place >= 0) {
      waiting.splice(place, 1);
      job.reject(job.options.signal?.reason);
    } else if (running === job) {
      letGo();
      finish(() => job.reject(job.options.signal?.reason));
    }
  };

  return {
    ask: (task, input, options = {}) =>
      new Promise((resolve, reject) => {
        options.signal?.throwIfAborted();
        lastId += 1;
        const job: Job = { id: lastId, task, input, options, resolve: resolve as Job["resolve"], reject };
        options.signal?.addEventListener("abort", () => abort(job), { once: true });
        waiting.push(job);
        next();
      }),
  };
}
