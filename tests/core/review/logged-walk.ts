import { HERON } from "../../../app/demo/documents.ts";
import { writeRunFile } from "../../../core/exchange/run-file.ts";
import { appendEntry } from "../../../core/record/append.ts";
import { canonicalDocument } from "../../../core/record/canonical.ts";
import { digest } from "../../../core/record/digest.ts";
import type { Entry, LogEvent } from "../../../core/record/entry.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { CREW, Walk } from "../../model/walk.ts";

const digestOf = (document: object): string => {
  const text = canonicalDocument(document);
  if (!text.ok) throw new Error("a shipped document has a canonical form");
  return digest(text.value);
};

/** A SYNTHETIC crew's walk through a procedure that keeps its log, ten unhurried seconds between acts. */
export class LoggedWalk extends Walk {
  readonly entries: Entry[] = [];
  pause_s = 10;

  constructor({ rig, procedure }: typeof HERON = HERON) {
    super(rig, procedure);
    this.keep({
      type: "opened",
      run: "H-329-04",
      rig: digestOf(HERON.rig),
      procedure: digestOf(HERON.procedure),
      drill: false,
      transcribed: false,
      software: "test",
    });
    this.seq = 1;
  }

  keep(event: LogEvent, by: string = CREW.conductor): void {
    const entry = appendEntry(this.entries.at(-1), { ...this.now, log: "log", device: "phone", by, event });
    if (!entry.ok) throw new Error(entry.issues.map(({ detail }) => detail).join());
    this.entries.push(entry.value);
  }

  override try(event: SequenceEvent, by: string = CREW.conductor): readonly string[] {
    // The base walk adds a second of its own; what the sequence heard is what the log keeps.
    this.wait(event.type === "released" ? 0 : this.pause_s - 1);
    const missing = super.try(event, by);
    const said: SequenceEvent =
      missing.length === 0 ? event : { type: "refused", event: event.type, missing };
    this.keep(said, by);
    return missing;
  }

  /** The run as it travels. */
  file(): string {
    const text = writeRunFile({ run: "H-329-04", log: "log", ...HERON, entries: this.entries });
    if (!text.ok) throw new Error(text.issues.map(({ detail }) => detail).join());
    return text.value;
  }
}
