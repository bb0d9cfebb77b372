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
  const queue = new WorkQueue(spawn, keepIdle_ms);
  return {
    ask: (task, input, options = {}) =>
      new Promise((resolve, reject) => {
        options.signal?.throwIfAborted();
        queue.add({ task, input, options, resolve: resolve as Job["resolve"], reject });
      }),
  };
}

class WorkQueue {
  readonly #spawn: () => WorkerLike;
  readonly #keepIdle_ms: number;
  readonly #waiting: Job[] = [];
  #worker: WorkerLike | undefined;
  #running: Job | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #lastId = 0;

  constructor(spawn: () => WorkerLike, keepIdle_ms: number) {
    this.#spawn = spawn;
    this.#keepIdle_ms = keepIdle_ms;
  }

  add(asked: Omit<Job, "id">): void {
    this.#lastId += 1;
    const job: Job = { ...asked, id: this.#lastId };
    job.options.signal?.addEventListener("abort", () => this.#abort(job), { once: true });
    this.#waiting.push(job);
    this.#next();
  }

  #next(): void {
    if (this.#running) return;
    clearTimeout(this.#timer);
    this.#running = this.#waiting.shift();
    if (!this.#running) {
      this.#timer = setTimeout(() => this.#letGo(), this.#keepIdle_ms);
      return;
    }
    this.#worker ??= this.#start();
    const { id, task, input, options } = this.#running;
    this.#worker.postMessage({ id, task, input }, [...(options.transfer ?? [])]);
  }

  #finish(settle: (job: Job) => void): void {
    const job = this.#running;
    this.#running = undefined;
    if (job) settle(job);
    this.#next();
  }

  #start(): WorkerLike {
    const fresh = this.#spawn();
    fresh.onmessage = ({ data }) => {
      if (data.id !== this.#running?.id) return;
      if (data.kind === "progress") this.#running.options.onProgress?.(data.part);
      else if (data.kind === "done") this.#finish((job) => job.resolve(data.value));
      else this.#finish((job) => job.reject(new Error(data.why)));
    };
    fresh.onerror = (event) => {
      this.#letGo();
      this.#finish((job) => job.reject(new Error(event.message || "the worker could not be started")));
    };
    return fresh;
  }

  #letGo(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
  }

  #abort(job: Job): void {
    const place = this.#waiting.indexOf(job);
    if (place >= 0) {
      this.#waiting.splice(place, 1);
      job.reject(job.options.signal?.reason);
    } else if (this.#running === job) {
      this.#letGo();
      this.#finish(() => job.reject(job.options.signal?.reason));
    }
  }
}
