import { isAboutTheRecord } from "../../core/record/replay.ts";
import { advance } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import type { RunView } from "./live-run.ts";
import type { LogWorker } from "./log-worker.ts";

/** The durable state with everything pending folded on top. */
const shown = ({ durable, lines, loaded, latched }: LogWorker): Snapshot => {
  const { entries } = durable;
  let { snapshot } = durable;
  for (const [i, { loose }] of lines.pending.entries()) {
    const { event } = loose;
    if (isAboutTheRecord(event)) continue;
    try {
      const folded = advance(loaded.sequence, snapshot, { ...loose, event, seq: entries.length + i });
      if (folded.ok) snapshot = folded.value;
    } catch {
      // A fault of ours shows as a hold once the act is judged.
    }
  }
  if (latched === undefined) return snapshot;
  const hold = { kind: "finding", by: "app", why: latched, seq: entries.length } as const;
  return { ...snapshot, context: { ...snapshot.context, hold } };
};

export const viewOf = (log: string, worker: LogWorker): RunView => {
  const { loaded, durable, lines, trouble, findings, lastRefusal } = worker;
  const { code, documents, sequence } = loaded;
  const { entries } = durable;
  const opened = entries[0]?.event;
  return {
    log,
    code,
    drill: opened?.type === "opened" && opened.drill,
    rig: documents.rig,
    procedure: documents.procedure,
    sequence,
    snapshot: shown(worker),
    entries,
    pending: lines.pending.flatMap(({ loose: { event } }) => (isAboutTheRecord(event) ? [] : [event])),
    save: trouble.length > 0 ? "not-saved" : worker.saving ? "saving" : "saved",
    trouble,
    findings,
    writer: worker.writing,
    lastRefusal,
  };
};
