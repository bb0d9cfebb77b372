import { failed, issue, ok, type Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type {
  FileStore,
  ForceReading,
  ForceReduction,
  ForceRequest,
  ForceSource,
  ForceWork,
} from "../ports.ts";
import type { BenchRecord } from "./bench-record.ts";
import { readOptions } from "./force-request.ts";
import type { ShownWork } from "./shown-work.ts";

/** The bytes of force files and the work on them, each piece of work with its bar and its stop. */
export class ForceReader {
  readonly #files: FileStore;
  readonly #force: ForceWork;
  readonly #work: ShownWork;
  readonly #blobs = new Map<string, Blob>();

  constructor(files: FileStore, force: ForceWork, work: ShownWork) {
    this.#files = files;
    this.#force = force;
    this.#work = work;
  }

  /** Bytes that are at hand already need not be fetched. */
  hold(digest: string, bytes: Blob): void {
    this.#blobs.set(digest, bytes);
  }

  readonly sourceOf = async (digest: string): Promise<Result<ForceSource>> => {
    const held = this.#blobs.get(digest);
    if (held) return ok({ digest, bytes: held });
    const stored = await this.#files.get(digest);
    if (!stored.ok) return stored;
    const bytes = new Blob([stored.value.bytes]);
    this.hold(digest, bytes);
    return ok({ digest, bytes });
  };

  /** Undefined where a person stopped it. */
  async read(record: BenchRecord, rig: Rig | undefined): Promise<Result<ForceReading> | undefined> {
    const source = await this.sourceOf(record.file);
    if (!source.ok) return source;
    return this.#work.run(`Reading ${record.fileName}`, (work) =>
      this.#force.read(source.value, readOptions(record, rig), work),
    );
  }

  async reduce(record: BenchRecord, request: ForceRequest): Promise<Result<ForceReduction>> {
    const source = await this.sourceOf(record.file);
    if (!source.ok) return source;
    const reduced = await this.#work.run(`Reducing ${record.fileName}`, (work) =>
      this.#force.reduce(source.value, request, work),
    );
    return reduced ?? failed(issue("stopped", "file", "the work was stopped by hand", "ask for it again"));
  }
}
