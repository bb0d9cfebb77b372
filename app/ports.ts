import type { ExponentFit } from "../core/compare/exponent-fit.ts";
import type { Setup } from "../core/exchange/setup.ts";
import type { Layer } from "../core/force/corrections.ts";
import type { ReducedEvent } from "../core/force/event.ts";
import type { ForceFile, ReadOptions } from "../core/force/force-file.ts";
import type { ReduceOptions, Reduction } from "../core/force/reduce.ts";
import type { eventReport } from "../core/force/report.ts";
import type { Procedure } from "../core/procedure/procedure.ts";
import type { Entry } from "../core/record/entry.ts";
import type { Issue, Result } from "../core/result.ts";
import type { Rig } from "../core/rig/rig.ts";
import type { SequenceEvent, Stamp } from "../core/sequence/vocabulary.ts";

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

/**
 * Resolves ok only when the entry is durable, and always resolves. Append-only: a repeated
 * (log, seq) with the same hash is ok, being the same entry; with another hash it is the issue
 * `entry-exists`, never a change.
 */
export type RunStore = {
  readonly create: (log: string, code: string, documents: RunDocuments) => Promise<Result<void>>;
  readonly append: (entry: Entry) => Promise<Result<void>>;
  /** @fails run-not-found, store-unavailable */
  readonly read: (log: string) => Promise<Result<StoredRun>>;
  readonly list: () => Promise<Result<readonly RunSummary[]>>;
  /** Writes and reads back a probe: the log can be trusted right now. */
  readonly probe: () => Promise<Result<void>>;
};

/** Files beside the logs: force records, photos, results, stands, reviews. The key is the SHA-256 of the bytes. */
export type StoredFile = {
  readonly digest: string;
  readonly name: string;
  readonly kind: "force" | "run" | "photo" | "result" | "stand" | "review";
  readonly at: number;
  readonly bytes: ArrayBuffer;
};
export type FileStore = {
  /** Resolves ok only after the bytes were read back and their digest agreed. */
  readonly put: (file: Omit<StoredFile, "digest">) => Promise<Result<string>>;
  readonly get: (digest: string) => Promise<Result<StoredFile>>;
  readonly list: () => Promise<Result<readonly Omit<StoredFile, "bytes">[]>>;
};

/** An act as it was entered, before it has its place in the log. */
export type LooseAct = Stamp & { readonly by: string; readonly event: SequenceEvent };

export type JournalRun = {
  readonly code: string;
  readonly documents: RunDocuments;
  /** Entries up to here were carried away by an export; -1 before any. */
  readonly exportedThrough: number;
  /** Acknowledged entries that no export has carried away, in order. */
  readonly entries: readonly Entry[];
  /** What was said and shown but is not yet known to be in the log. */
  readonly pending: readonly LooseAct[];
};

/**
 * A second, synchronous copy with another way to fail than the store's. It never gates anything:
 * what it cannot keep is said, and the run goes on.
 */
export type Journal = {
  readonly open: (log: string, code: string, documents: RunDocuments) => Result<void>;
  readonly keep: (entry: Entry) => Result<void>;
  readonly setPending: (log: string, pending: readonly LooseAct[]) => Result<void>;
  readonly read: (log: string) => Result<JournalRun | undefined>;
  readonly logs: () => readonly string[];
  /** An export carried the run away up to and including this entry. */
  readonly exported: (log: string, throughSeq: number) => void;
};

export type Clock = {
  readonly now: () => Stamp;
  /** The stamp of an input event, from its own timeStamp rather than from when we got to it. */
  readonly ofInput: (timeStamp: number) => Stamp;
};

/** One writer a run: a second tab is a viewer until it takes over, which is logged. */
export type WriterLock = {
  /** With `over`, whoever holds the lock loses it and learns so through its own `lost`. */
  readonly take: (over?: "takeover") => Promise<{
    readonly granted: boolean;
    readonly release: () => void;
    readonly lost: Promise<void>;
  }>;
};

export type Timer = {
  /** Calls back once, after this long; returns the way to cancel. */
  readonly after: (ms: number, then: () => void) => () => void;
};

/** Whether somebody is looking at the page, and whether somebody touches it. */
export type Presence = {
  /** Returns the way to stop watching. */
  readonly watch: (told: (change: "hidden" | "visible" | "touched") => void) => () => void;
};

/** What became of an offer to hand a file to another device. */
export type Handed = "handed" | "cancelled" | "not-supported";
export type Transfer = {
  /** The share sheet, with a file made before the tap. */
  readonly share: (name: string, text: string) => Promise<Result<Handed>>;
  /** Saves to the device's downloads; not in an iOS home-screen app, where it is a trap. */
  readonly save: (name: string, text: string) => Result<Handed>;
  readonly copy: (text: string) => Promise<Result<Handed>>;
};

/** The Web Lock that one writing page holds while a run is open; an update never happens under it. */
export const runWriterLock = "run-writer";

/**
 * - `current`: nothing newer is known.
 * - `waits-for-run`: a newer version is on the device; some page has a run open, so it stays out of sight.
 * - `ready`: a newer version is on the device and a person may ask for it.
 * - `replaced`: another page updated the app; this one runs the old version until it is reloaded.
 */
export type UpdateState = "current" | "waits-for-run" | "ready" | "replaced";

export type UpdateControl = {
  readonly state: () => UpdateState;
  /** Calls the listener now and at every change. Returns the way to stop that. */
  readonly subscribe: (listener: (state: UpdateState) => void) => () => void;
  /** On a person's word only; reloads the page. "run-open": nothing was changed. */
  readonly apply: () => Promise<"reloading" | "run-open" | "nothing-waiting">;
};

/**
 * What must hold before a real run depends on this device. Facts and a verdict; the words are the screen's.
 *
 * - `ready`: seen to be so.
 * - `attention`: a run is possible, the person should know.
 * - `not-ready`: something a run needs is missing.
 * - `unknown`: this browser does not say, or did not answer in time.
 */
export type ReadinessItem = { readonly verdict: "ready" | "attention" | "not-ready" | "unknown" } & (
  | { readonly code: "offline-copy"; readonly expected: number; readonly missing: readonly string[] }
  | { readonly code: "storage-kept" }
  | { readonly code: "log-writable" }
  | { readonly code: "clock"; readonly fault: "before-release" | "before-newest-entry" | "moved-back" | null }
  | { readonly code: "battery"; readonly level_percent: number | null; readonly charging: boolean }
  | { readonly code: "installed" }
  | { readonly code: "last-export"; readonly age_days: number | null }
);

/** What only the log knows, for the probes. Times are wall times; undefined where there is none. */
export type ReadinessFromLog = {
  /** Writes to the log's database and reads it back. */
  readonly logWritable: () => Promise<boolean>;
  readonly newestEntry_ms: number | undefined;
  readonly lastExport_ms: number | undefined;
};

export type Readiness = {
  /** All probes at once, in the order a person reads them. Never rejects: a probe that fails is a verdict. */
  readonly probe: (fromLog: ReadinessFromLog) => Promise<readonly ReadinessItem[]>;
  /** Asks the browser to keep the records for good. The answer belongs in the log. */
  readonly askToKeepStorage: () => Promise<boolean>;
};

/** A force file at hand: named by its digest, read only where it is needed. */
export type ForceSource = { readonly digest: string; readonly bytes: Blob };

/** Work that takes a while: shows how far it is, and can be stopped. */
export type Work = {
  readonly signal?: AbortSignal;
  /** Part done, 0 to 1. */
  readonly onProgress?: (part: number) => void;
};

/** What a force file holds, without its numbers. */
export type ForceReading = Omit<ForceFile, "columns" | "lineOf"> & {
  /** The first rows, to recognise columns by. */
  readonly sample: readonly (readonly number[])[];
};

export type ForceRequest = {
  readonly reading: ReadOptions;
  readonly setup: Setup;
  readonly options: ReduceOptions;
};

export type ForceLayer = Omit<Layer, "added_N">;
export type ForceEvent = Omit<ReducedEvent, "measured" | "series" | "layers"> & {
  readonly report: ReturnType<typeof eventReport>;
  readonly layers: readonly ForceLayer[];
  /** Onset to the water's end. */
  readonly waterImpulse_Ns: number;
  /** All channels as read, onset to end, nothing corrected. */
  readonly read_Ns: number;
  readonly window: { readonly from_s: number; readonly to_s: number };
};
export type ForceReduction = {
  readonly events: readonly ForceEvent[];
  readonly trace: {
    readonly rate_Hz: number;
    readonly from_s: number;
    readonly to_s: number;
    readonly samples: number;
    readonly gaps: readonly { readonly from_s: number; readonly to_s: number }[];
    readonly duplicates: number;
    readonly channels: readonly { readonly name: string; readonly clipped: number }[];
  };
  readonly assumed: Reduction["assumed"];
  readonly issues: readonly Issue[];
};

/** `read`: all channels as the recorder wrote them. The others exist around events only. */
export type CurveName = "read" | "thrust" | "envelope";
export type CurveView = {
  readonly names: readonly CurveName[];
  readonly from_s: number;
  readonly to_s: number;
  /** Pixel columns there are: curves are thinned to them. */
  readonly columns: number;
};
/** NaN in y breaks the line. */
export type ForceCurve = { readonly name: CurveName; readonly x: Float64Array; readonly y: Float64Array };

/** Reads and reduces force files beside the page, which never waits for it. A stopped task rejects with the signal's reason. */
export type ForceWork = {
  readonly read: (source: ForceSource, options: ReadOptions, work?: Work) => Promise<Result<ForceReading>>;
  readonly reduce: (
    source: ForceSource,
    request: ForceRequest,
    work?: Work,
  ) => Promise<Result<ForceReduction>>;
  readonly curves: (
    source: ForceSource,
    request: ForceRequest,
    view: CurveView,
    work?: Work,
  ) => Promise<Result<readonly ForceCurve[]>>;
  /** The exponent that brings the model's curve onto the record's, by place of the event. */
  readonly fit: (
    source: ForceSource,
    request: ForceRequest,
    event: number,
    work?: Work,
  ) => Promise<Result<ExponentFit>>;
};

/** Small choices of this device: units, recorder presets. Losing them loses no record. */
export type Preferences = {
  readonly read: (key: string) => string | undefined;
  readonly write: (key: string, value: string) => void;
};

/** What a camera sees at one moment: RGBA, row by row. */
export type Picture = {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray<ArrayBuffer>;
};

/** Finds a QR code in a picture, beside the page, and gives its bytes. The picture is used up. */
export type CodeSight = {
  readonly read: (picture: Picture, work?: Work) => Promise<Uint8Array | undefined>;
};

/** A camera that is on; closing it puts its light out. */
export type OpenCamera = {
  readonly stream: MediaStream;
  /** It was unplugged, or taken away. */
  readonly ended: Promise<void>;
  readonly close: () => void;
};

export type Camera = {
  /** @fails camera-refused, camera-absent, camera-busy, camera-not-offered */
  readonly open: (id?: string) => Promise<Result<OpenCamera>>;
  /** All of them; browsers tell their names only once one was open. */
  readonly list: () => Promise<readonly { readonly id: string; readonly name: string }[]>;
};

export type SaveState = "saved" | "saving" | "not-saved";

export type { Issue };
