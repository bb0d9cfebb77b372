import { isAboutTheRecord } from "../../core/record/replay.ts";
import { advance, type Sequence } from "../../core/sequence/advance.ts";
import type { Snapshot } from "../../core/sequence/context.ts";
import type { Job } from "./jobs.ts";
import type { Durable } from "./run-log.ts";

/** What the screen shows: the durable state with everything pending folded on top. */
export const shownSnapshot = (
  sequence: Sequence,
  { entries, snapshot }: Durable,
  pending: readonly Job[],
  latched: string | undefined,
): Snapshot => {
  let shown = snapshot;
  for (const [i, { loose }] of pending.entries()) {
    const { event } = loose;
    if (isAboutTheRecord(event)) continue;
    try {
      const folded = advance(sequence, shown, { ...loose, event, seq: entries.length + i });
      if (folded.ok) shown = folded.value;
    } catch {
      // A fault of ours shows as a hold once the act is judged.
    }
  }
  if (latched === undefined) return shown;
  const hold = { kind: "finding", by: "app", why: latched, seq: entries.length } as const;
  return { ...shown, context: { ...shown.context, hold } };
};
