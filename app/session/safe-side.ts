import type { Snapshot } from "../../core/sequence/context.ts";
import { isBadAnswer } from "../../core/sequence/rules.ts";
import { isReport, type SequenceEvent } from "../../core/sequence/vocabulary.ts";

/** Clearing one hold uncovers the next: only their number tells whether an act added one. */
const holdsStanding = ({ context }: Snapshot): number => (context.hold ? 1 : 0) + context.furtherHolds.length;

/**
 * What shows at once, before it is in the log: reports, and acts that end on the safe side, such as
 * a bad answer, or a reading over the limit. Nothing of it ever opens a gate: gates need all of it
 * to be durable first.
 */
export const leadsToSafety = (event: SequenceEvent, before: Snapshot, after: Snapshot): boolean =>
  isReport(event.type) ||
  isBadAnswer(event) ||
  holdsStanding(after) > holdsStanding(before) ||
  after.context.outside.length > before.context.outside.length ||
  (after.state !== before.state && (after.state === "making-safe" || after.state === "unresolved"));
