import { findStep, isCritical } from "../procedure/procedure.ts";
import { type Context, type Doc, type Hold, type Snapshot, stepAtHand } from "./context.ts";
import { gaugesAgree, nextReadings } from "./gauges.ts";
import { isGood } from "./good-answer.ts";
import { isCold, isFinal, isLive } from "./states.ts";
import { type Act, type HoldKind, isReport, type SequenceEvent } from "./vocabulary.ts";

/** A finding that somebody can shrug off is no finding: these hold the run, whoever enters them. */
const isFinding = (doc: Doc, snapshot: Snapshot, event: SequenceEvent): boolean => {
  const { state, context } = snapshot;
  const before = context.readings;
  const after = nextReadings(doc, snapshot, event);
  if (after !== before && !gaugesAgree(doc, after)) return true;
  if (event.type === "restraint-answered") return event.round === 2 && event.answer !== "home";
  if (event.type === "step-done") {
    const step = findStep(doc.procedure, event.step)?.step;
    if (!step || isGood(doc, step, event)) return false;
    // Looking again until it pleases is how a bad mark is passed: with pressure on, it holds.
    return step.hold !== undefined || (isLive(state) && isCritical(step) && step.form.kind === "look");
  }
  if (!isReport(event.type)) return false;
  const { whileCold, whileLive, whileWaiting } = doc.holds;
  return (
    (isCold(state) && whileCold.includes(event.type)) ||
    (isLive(state) && whileLive.includes(event.type)) ||
    (state === "waiting" && whileWaiting.includes(event.type))
  );
};

const holdKind = (doc: Doc, snapshot: Snapshot, event: SequenceEvent): HoldKind | undefined => {
  const { state } = snapshot;
  if (isFinal(state)) return undefined;
  if (isFinding(doc, snapshot, event)) return "finding";
  if (event.type === "hold-called") return "called";
  if (event.type === "restarted") return isCold(state) ? "restart" : undefined;
  if (event.type !== "interrupted") return undefined;
  const step = stepAtHand(doc, snapshot);
  return isLive(state) || (isCold(state) && step && isCritical(step)) ? "interruption" : undefined;
};

type Holds = Pick<Context, "hold" | "furtherHolds">;

/**
 * A finding comes before all else, and each person who called a hold has to agree to its end: one
 * that is cleared uncovers the next. An interruption or a restart adds nothing to a hold.
 */
export const nextHolds = (doc: Doc, snapshot: Snapshot, act: Act): Holds => {
  const { hold, furtherHolds } = snapshot.context;
  if (act.event.type === "hold-cleared")
    return { hold: furtherHolds[0], furtherHolds: furtherHolds.slice(1) };
  const kind = holdKind(doc, snapshot, act.event);
  if (!kind) return { hold, furtherHolds };
  const why = "why" in act.event && act.event.why !== "" ? act.event.why : act.event.type;
  const step = stepAtHand(doc, snapshot);
  const added: Hold = { kind, by: act.by, why, seq: act.seq, ...(step && { step: step.id }) };
  if (!hold) return { hold: added, furtherHolds };
  const standing = [hold, ...furtherHolds];
  if (kind === "finding" && hold.kind !== "finding") return { hold: added, furtherHolds: standing };
  const isNewCall = kind === "called" && !standing.some((h) => h.kind === "called" && h.by === act.by);
  return isNewCall ? { hold, furtherHolds: [...furtherHolds, added] } : { hold, furtherHolds };
};
