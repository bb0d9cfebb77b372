import type { Procedure } from "../core/procedure/procedure.ts";
import type { Entry } from "../core/record/entry.ts";
import type { Issue, Result } from "../core/result.ts";
import type { Rig } from "../core/rig/rig.ts";
import type { Stamp } from "../core/sequence/vocabulary.ts";

/** What the faces and the session need of the world; adapters stand behind these, built in main.tsx only. */

/** The rig and the procedure that a run goes by, whole, as they were when it was opened. */
export type RunDocuments = { readonly rig: Rig; readonly procedure: Procedure };

export type StoredRun = {
  readonly log: string;
  readonly code: string;
  readonly documents: RunDocuments;
  readonly entries: readonly Entry[];
};

export type RunSummary = {
  readonly log: string;
  readonly code: string;
  readonly rigName: string;
  readonly openedAt: number;
  readonly lastSeq: number;
  readonly open: boolean;
};

/** Resolves ok only when the entry is durable. Append-only: a repeated (log, seq) is an issue, never a change. */
export type RunStore = {
  readonly create: (log: string, code: string, documents: RunDocuments) => Promise<Result<void>>;
  readonly append: (entry: Entry) => Promise<Result<void>>;
  readonly read: (log: string) => Promise<Result<StoredRun>>;
  readonly list: () => Promise<Result<readonly RunSummary[]>>;
  /** Writes and reads back a probe: the log can be trusted right now. */
  readonly probe: () => Promise<Result<void>>;
};

export type Clock = {
  readonly now: () => Stamp;
  /** The stamp of an input event, from its own timeStamp rather than from when we got to it. */
  readonly ofInput: (timeStamp: number) => Stamp;
};

/** One writer a run: a second tab is a viewer until it takes over, which is logged. */
export type WriterLock = {
  readonly take: (log: string) => Promise<{ readonly granted: boolean; readonly release: () => void }>;
};

export type SaveState = "saved" | "saving" | "not-saved";

export type { Issue };
