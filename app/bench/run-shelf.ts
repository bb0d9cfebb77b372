import { signal } from "@preact/signals";
import { type Issue, ok } from "../../core/result.ts";
import type { RunStore, StoredRun } from "../ports.ts";
import { type DeskRun, deskRun } from "./run-conditions.ts";

/** The runs on the bench, newest first: what this device holds and what is brought in, kept entry by entry. */
export class RunShelf {
  readonly runs = signal<readonly DeskRun[]>([]);
  readonly #store: RunStore;
  readonly #reject: (name: string, issues: readonly Issue[]) => void;

  constructor(store: RunStore, reject: (name: string, issues: readonly Issue[]) => void) {
    this.#store = store;
    this.#reject = reject;
  }

  async load(): Promise<void> {
    const list = await this.#store.list();
    if (!list.ok) return this.#reject("the runs on this device", list.issues);
    const stored = await Promise.all(list.value.map(({ log }) => this.#store.read(log)));
    for (const [i, run] of stored.entries()) if (!run.ok) this.#reject(list.value[i]!.code, run.issues);
    this.runs.value = newestFirst(stored.flatMap((run) => (run.ok ? [deskRun(run.value)] : [])));
  }

  /** A run that is here already may have grown; an entry that differs from the one that is here is refused. */
  async keep(name: string, stored: StoredRun): Promise<void> {
    const { log, code, documents, entries } = stored;
    const known = this.runs.value.some((run) => run.log === log);
    const created = known ? ok(undefined) : await this.#store.create(log, code, documents);
    if (!created.ok) return this.#reject(name, created.issues);
    for (const entry of entries) {
      const kept = await this.#store.append(entry);
      if (!kept.ok) return this.#reject(name, kept.issues);
    }
    this.runs.value = newestFirst([...this.runs.value.filter((run) => run.log !== log), deskRun(stored)]);
  }
}

const newestFirst = (runs: readonly DeskRun[]) => [...runs].sort((a, b) => b.openedAt_ms - a.openedAt_ms);
