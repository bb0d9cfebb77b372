import type { Entry } from "../../core/record/entry.ts";
import type { RunDocuments, RunSummary, StoredRun } from "../ports.ts";

/**
 * A run store as the platform gives it: operations may throw, and may never end. `watchStore` makes
 * a `RunStore` of one. Two exist, on IndexedDB and in memory, under one contract suite.
 */
export type RawRunStore = {
  /** "exists" where the log has been created before. */
  readonly create: (log: string, code: string, documents: RunDocuments) => Promise<"created" | "exists">;
  /** Adds, durably; where (log, seq) is taken, nothing changes and what stands there is returned. */
  readonly append: (entry: Entry) => Promise<"added" | Entry>;
  readonly read: (log: string) => Promise<StoredRun | undefined>;
  readonly list: () => Promise<readonly RunSummary[]>;
  /** Writes a mark durably and reads it back. */
  readonly probe: () => Promise<void>;
  /** Lets go of whatever connection there is: the next operation opens a new one. */
  readonly drop: () => void;
  /** True while another page keeps an older version of the store open. */
  readonly isBlocked: () => boolean;
};

/** The acts that end a run, whatever is noted in its log afterwards. */
export const endsRun = (entry: Entry): boolean =>
  entry.event.type === "close-called" || entry.event.type === "scrub-called";
