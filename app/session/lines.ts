import type { Entry } from "../../core/record/entry.ts";
import { isAboutTheRecord } from "../../core/record/replay.ts";
import type { LooseAct } from "../ports.ts";
import { isSameAct, type Job } from "./jobs.ts";

/**
 * The two lines that lead into the log. What is on the safe side is pending: shown at once, and
 * always first. Calls wait behind it, since a call needs nothing pending.
 */
export class Lines {
  #pending: readonly Job[] = [];
  #calls: readonly Job[] = [];
  readonly #pendingChanged: (acts: readonly LooseAct[]) => void;

  constructor(pendingChanged: (acts: readonly LooseAct[]) => void) {
    this.#pendingChanged = pendingChanged;
  }

  get pending(): readonly Job[] {
    return this.#pending;
  }

  get calls(): readonly Job[] {
    return this.#calls;
  }

  get all(): readonly Job[] {
    return [...this.#pending, ...this.#calls];
  }

  pend(job: Job): void {
    this.#pending = [...this.#pending, job];
    this.#tell();
  }

  call(job: Job): void {
    this.#calls = [...this.#calls, job];
  }

  remove(job: Job): void {
    const wasPending = this.#pending.includes(job);
    this.#pending = this.#pending.filter((other) => other !== job);
    this.#calls = this.#calls.filter((other) => other !== job);
    if (wasPending) this.#tell();
  }

  /** Calls that met trouble are void: what was true when they were made may not be later. */
  dropCalls(): readonly Job[] {
    const dropped = this.#calls;
    this.#calls = [];
    return dropped;
  }

  /** Empties both without a word to the journal: another page writes there now. */
  abandon(): readonly Job[] {
    const left = this.all;
    this.#pending = [];
    this.#calls = [];
    return left;
  }

  jobOf(entry: Entry): Job | undefined {
    return this.all.find(({ loose }) => isSameAct(entry, loose));
  }

  #tell(): void {
    this.#pendingChanged(
      this.#pending.flatMap(({ loose }) =>
        isAboutTheRecord(loose.event) ? [] : [{ ...loose, event: loose.event }],
      ),
    );
  }
}
