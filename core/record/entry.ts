import type { SequenceEvent, Stamp } from "../sequence/vocabulary.ts";

/** What the log says beside the sequence: how it was opened, where it has been. */
export type RecordEvent =
  | {
      readonly type: "opened";
      /** Stand letter, day of the year, number: H-329-04. Speakable, unique across phones. */
      readonly run: string;
      /** SHA-256 of the canonical rig and procedure, so that the chain covers what the run went by. */
      readonly rig: string;
      readonly procedure: string;
      readonly drill: boolean;
      readonly transcribed: boolean;
      readonly software: string;
    }
  /** Anything about the keeping of the log itself: what the browser promised, where a copy went. */
  | {
      readonly type: "kept";
      readonly what: "persistence" | "shared" | "takeover" | "ready" | "photo";
      readonly words: string;
    };

export type LogEvent = RecordEvent | SequenceEvent;

/** One entry of a run's log. Numbers are integers, so that the canonical form is stable everywhere. */
export type Entry = Stamp & {
  readonly v: 1;
  readonly log: string;
  readonly seq: number;
  readonly device: string;
  readonly by: string;
  readonly event: LogEvent;
  /** SHA-256 of the entry before, hexadecimal; of nothing at seq 0: 64 zeros. */
  readonly prev: string;
  /** SHA-256 of this entry's canonical form (RFC 8785) without `hash`. */
  readonly hash: string;
};
