import type { Procedure } from "../../core/procedure/procedure.ts";
import type { Entry } from "../../core/record/entry.ts";
import type { Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { Sequence } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import type { Missing } from "../../core/sequence/missing.ts";
import type { SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import type {
  Clock,
  Issue,
  Journal,
  Presence,
  RunDocuments,
  RunStore,
  SaveState,
  Timer,
  WriterLock,
} from "../ports.ts";

/**
 * One live run: what a face needs of it. A permission is given only after its entry is durable; a
 * report, a hold and make safe show at once as pending and are logged behind; while anything is
 * pending, or the log cannot be written, no permission is given.
 */
export type LiveRun = {
  readonly subscribe: (listener: () => void) => () => void;
  /** The same object until something changes. */
  readonly view: () => RunView;
  /**
   * Resolves when the outcome is certain. A second identical act sent while the first is under way
   * shares its outcome and is logged once.
   */
  readonly send: (event: SequenceEvent, options?: SendOptions) => Promise<SendOutcome>;
  /** Tries again to log what is pending; with nothing pending, asks the store for a probe. */
  readonly retry: () => Promise<Result<void>>;
  /** Notes in the log that a copy left the device or what the browser promised. */
  readonly keep: (what: KeptWhat, words: string) => Promise<SendOutcome>;
  /** For a viewer: makes this the writing page. Logged, and a restart for the sequence. */
  readonly takeOver: () => Promise<Result<void>>;
  /** The stamp and person that an act sent now would bear: what `permitted` asks for. */
  readonly now: () => Stamp & { readonly by: string };
  /** Lets go of the writer lock and stops watching. */
  readonly leave: () => void;
};

export type KeptWhat = "persistence" | "shared" | "takeover" | "ready" | "photo";

export type SendOptions = {
  /** Who holds the phone; left out: whoever the log says has it. */
  readonly by?: string;
  /** `event.timeStamp` of the input event: the act is stamped with the tap, not with our work. */
  readonly timeStamp?: number;
};

export type SendOutcome =
  | { readonly kind: "accepted" }
  | { readonly kind: "refused"; readonly missing: readonly Missing[] }
  /** A report stays pending and on screen; a permission is dropped and must be called again. */
  | { readonly kind: "not-saved"; readonly issues: readonly Issue[] };

export type RunView = {
  readonly log: string;
  readonly code: string;
  readonly drill: boolean;
  readonly rig: Rig;
  readonly procedure: Procedure;
  readonly sequence: Sequence;
  /** The durable state with every pending entry folded on top. */
  readonly snapshot: Snapshot;
  /** Durable entries only. */
  readonly entries: readonly Entry[];
  /** Said and shown, but not yet known to be in the log. */
  readonly pending: readonly SequenceEvent[];
  readonly save: SaveState;
  /** Why it is not saved. */
  readonly trouble: readonly Issue[];
  /** What opening the run found and what the second copy could not keep; nothing here closes a gate. */
  readonly findings: readonly Issue[];
  /** False in a second tab, which only looks on. */
  readonly writer: boolean;
  readonly lastRefusal: Refusal | undefined;
};

export type Refusal = { readonly event: SequenceEvent; readonly missing: readonly Missing[] };

/** What a session needs of the world. */
export type SessionPorts = {
  readonly store: RunStore;
  readonly journal: Journal;
  readonly clock: Clock;
  readonly lock: WriterLock;
  readonly presence: Presence;
  readonly timer: Timer;
  /** A name for this device that is no person's: stays the same between runs. */
  readonly device: string;
};

export type NewRun = {
  readonly documents: RunDocuments;
  readonly code: string;
  /** The log's id, unique across devices: letters and digits. */
  readonly log: string;
  readonly drill: boolean;
  readonly transcribed: boolean;
  readonly software: string;
  readonly by?: string;
};
