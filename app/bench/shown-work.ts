import { signal } from "@preact/signals";
import { failed, issue, type Result } from "../../core/result.ts";
import type { Work } from "../ports.ts";

export type Busy = {
  readonly id: number;
  readonly what: string;
  readonly part: number;
  readonly stop: () => void;
};

/** Work that goes on beside the page, each with a bar and a way to stop it. */
export class ShownWork {
  readonly busy = signal<readonly Busy[]>([]);
  #ids = 0;

  /** Undefined where a person stopped it. */
  async run<T>(what: string, work: (options: Work) => Promise<Result<T>>): Promise<Result<T> | undefined> {
    const stop = new AbortController();
    const id = ++this.#ids;
    this.busy.value = [...this.busy.value, { id, what, part: 0, stop: () => stop.abort() }];
    const onProgress = (part: number) => {
      this.busy.value = this.busy.value.map((one) => (one.id === id ? { ...one, part } : one));
    };
    try {
      return await work({ signal: stop.signal, onProgress });
    } catch (fault) {
      if (stop.signal.aborted) return undefined;
      const remedy = "bring the file in again; if it happens twice, keep the file and report it";
      return failed(issue("bench-fault", what, `the app met a fault of its own: ${String(fault)}`, remedy));
    } finally {
      this.busy.value = this.busy.value.filter((one) => one.id !== id);
    }
  }
}
