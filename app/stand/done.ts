import type { Step } from "../../core/procedure/procedure.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import type { Turn } from "./turn.ts";

/** The one who does it says it; the conductor enters it for them. */
export const done = (
  turn: Turn,
  step: Step,
  more: Pick<Extract<SequenceEvent, { type: "step-done" }>, "answer" | "reading"> = {},
): SequenceEvent => ({
  type: "step-done",
  step: step.id,
  seenBy: turn.view.snapshot.context.crew[step.role] ?? turn.now.by,
  ...more,
});
