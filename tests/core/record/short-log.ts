import { type Documents, HERON } from "../../../app/demo/documents.ts";
import { appendEntry, type Draft } from "../../../core/record/append.ts";
import { canonicalDocument } from "../../../core/record/canonical.ts";
import { digest } from "../../../core/record/digest.ts";
import type { Entry, LogEvent } from "../../../core/record/entry.ts";
import { foldEntry } from "../../../core/record/replay.ts";
import { createSequence } from "../../../core/sequence/advance.ts";
import { nextMove } from "../../simulation/crew.ts";

/** SYNTHETIC. Logs for tests, sealed by the code under test. */

export const hashOf = (document: unknown): string => {
  const text = canonicalDocument(document);
  if (!text.ok) throw new Error("the document has no canonical form");
  return digest(text.value);
};

export const OPENED: LogEvent = {
  type: "opened",
  run: "H-329-01",
  rig: hashOf(HERON.rig),
  procedure: hashOf(HERON.procedure),
  drill: false,
  transcribed: false,
  software: "test",
};

export const draft = (event: LogEvent, second = 0, by = "C1"): Draft => ({
  log: "log1",
  device: "phone1",
  session: "s",
  at: 1_780_000_000_000 + second * 1000,
  mono: second * 10_000,
  by,
  event,
});

export const sealAll = (events: readonly LogEvent[], log = "log1"): readonly Entry[] => {
  const entries: Entry[] = [];
  for (const [i, event] of events.entries()) {
    const entry = appendEntry(entries.at(-1), { ...draft(event, i), log });
    if (!entry.ok) throw new Error(JSON.stringify(entry.issues));
    entries.push(entry.value);
  }
  return entries;
};

export const SHORT_LOG: readonly Entry[] = sealAll([
  OPENED,
  { type: "signed-on", person: "C1", role: "conductor" },
  { type: "kept", what: "persistence", words: "the browser promised to keep the store" },
  { type: "signed-on", person: "I1", role: "installer" },
  { type: "hold-called", why: "gust" },
]);

/** A whole run of stand Heron by a crew that follows the screen, as its phone would have logged it. */
export const nominalLog = (documents: Documents = HERON): readonly Entry[] => {
  const sequence = createSequence(documents.rig, documents.procedure);
  const opened = { ...OPENED, rig: hashOf(documents.rig), procedure: hashOf(documents.procedure) };
  let entries = sealAll([opened]);
  let { initial: snapshot } = sequence;
  let at = draft(opened).at;
  for (;;) {
    const stamp = { at, mono: (at - draft(opened).at) * 10, session: "s" };
    const move = nextMove({ ...documents, sequence, snapshot, entries }, stamp);
    if (!move) return entries;
    at += move.after_ms;
    const loose = { ...draft(move.event, 0, move.by), at, mono: (at - draft(opened).at) * 10 };
    const sealed = appendEntry(entries.at(-1), loose);
    if (!sealed.ok) throw new Error(JSON.stringify(sealed.issues));
    const folded = foldEntry(sequence, snapshot, sealed.value);
    if (!folded.ok) throw new Error(`${JSON.stringify(move.event)}: ${JSON.stringify(folded.issues)}`);
    snapshot = folded.value;
    entries = [...entries, sealed.value];
  }
};
