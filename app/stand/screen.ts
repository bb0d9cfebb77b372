import { isCritical, type Step, stepsOf } from "../../core/procedure/procedure.ts";
import type { Restraint } from "../../core/rig/rig.ts";
import { permitted } from "../../core/sequence/advance.ts";
import { ageAtMost_ms } from "../../core/sequence/clock.ts";
import { openSteps, stepAtHand } from "../../core/sequence/context.ts";
import { factKey, type Gate } from "../../core/sequence/facts.ts";
import type { Missing } from "../../core/sequence/missing.ts";
import { ROLES, type Role } from "../../core/sequence/roles.ts";
import { waitLeft_ms } from "../../core/sequence/rules.ts";
import { isFinal, type StateId } from "../../core/sequence/states.ts";
import type { RestraintAnswer, SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import type { RunView } from "../session/live-run.ts";
import { readingWords } from "../widgets/log-words.ts";
import { caughtIn, lastPull, lastSaid, saidIn } from "./said.ts";

/** What the phone shows, worked out from the log alone: a screen is never a place of its own. */
export type Screen =
  | { readonly kind: "sign-on"; readonly roles: readonly Role[] }
  | { readonly kind: "hold"; readonly since: number }
  | { readonly kind: "return"; readonly cleared: number; readonly redo: Step; readonly reread?: Step }
  | { readonly kind: "hand-over"; readonly to: "verifier" | "conductor"; readonly again: boolean }
  | { readonly kind: "acts"; readonly steps: readonly Step[] }
  | { readonly kind: "step"; readonly step: Step; readonly caught?: string }
  | {
      readonly kind: "restraint";
      readonly step: Step;
      readonly restraint: Restraint;
      readonly round: 1 | 2;
      readonly number: number;
      readonly caught?: RestraintAnswer;
    }
  | { readonly kind: "gate"; readonly call: Gate; readonly missing: readonly Missing[] }
  | { readonly kind: "zero"; readonly missing: readonly Missing[] }
  | { readonly kind: "count" }
  | {
      readonly kind: "empty";
      readonly look: Step;
      readonly missing: readonly Missing[];
      /** A pull was called, and no longer counts: somebody may have pulled all the same. */
      readonly broken: boolean;
    }
  | { readonly kind: "pulled" }
  | { readonly kind: "waiting"; readonly left_s: number }
  | { readonly kind: "unresolved" }
  | { readonly kind: "unknown" }
  | { readonly kind: "over" };

type Now = Stamp & { readonly by: string };
type Seen = Pick<RunView, "snapshot" | "sequence" | "rig" | "procedure" | "entries" | "pending">;

/** SAFETY A7: after this long without an entry the verifier gives the own code again. */
const PROOF_IDLE_ms = 60_000;

const CALL_OF: Partial<Record<StateId, Gate>> = {
  preparing: "fill-called",
  filling: "seal-called",
  sealing: "mount-called",
  mounting: "restrain-called",
  restraining: "line-called",
  clearing: "air-called",
  charging: "pressure-called",
  charged: "arm-called",
  "making-safe": "wait-called",
  approaching: "close-called",
};

/** Where a call leads: what lies ahead is read before it is begun. */
export const STATE_AFTER: Partial<Record<Gate, StateId>> = {
  "fill-called": "filling",
  "seal-called": "sealing",
  "mount-called": "mounting",
  "restrain-called": "restraining",
  "line-called": "clearing",
  "air-called": "charging",
  "pressure-called": "charged",
  "arm-called": "armed",
};

/** @param returnRead  seq of the cleared hold whose return card has been read on this page */
export const screenOf = (view: Seen, now: Now, returnRead = -1): Screen => {
  const { state, context } = view.snapshot;
  if (isFinal(state)) return { kind: "over" };
  if (state === "unknown" || state === "unresolved") return { kind: state };
  if (state === "zeroed") return { kind: "count" };
  const making = state === "making-safe";
  const step = stepAtHand(view.sequence.doc, view.snapshot);
  // Before the hold: nobody who is not signed on can clear one, nor do a step of making safe.
  const roles = rolesNeeded(view);
  if (roles.some((role) => context.crew[role] === undefined)) return { kind: "sign-on", roles };
  // Making safe waits for nothing: its steps go on under a hold.
  if (context.hold && !(making && step)) return { kind: "hold", since: context.hold.seq };
  const back = making ? undefined : returnCard(view, step, returnRead);
  if (back) return back;
  const hand = making && step ? undefined : handOver(view, step, now);
  if (hand) return hand;
  if (state === "waiting")
    return { kind: "waiting", left_s: Math.ceil(waitLeft_ms(view.sequence.doc, context, now) / 1000) };
  return step ? stepScreen(view, step, now) : gateScreen(view, now);
};

/** Who may go to the stand when the wait is over: neither the one indoors nor the one with the phone. */
export const GOERS: readonly Role[] = ROLES.filter((role) => role !== "caller" && role !== "conductor");

/** The roles without which this state is a dead end: a run that is made safe early may have none yet. */
const rolesNeeded = ({ procedure, snapshot: { state, context } }: Seen): readonly Role[] => {
  if (state === "preparing") return ROLES;
  const ofSteps = stepsOf(procedure, state).map(({ role }) => role);
  const nobodyGoes = state === "waiting" && GOERS.every((role) => context.crew[role] === undefined);
  return ROLES.filter(
    (role) => role === "conductor" || ofSteps.includes(role) || (nobodyGoes && role === "installer"),
  );
};

/** What keeps a call from being made now; empty means that it is open. */
const missingFor = ({ sequence, snapshot }: Seen, call: Gate, now: Now): readonly Missing[] =>
  permitted(sequence, snapshot, now).find(({ type }) => type === call)?.missing ?? [];

const gateScreen = (view: Seen, now: Now): Screen => {
  const call = CALL_OF[view.snapshot.state];
  return call
    ? { kind: "gate", call, missing: missingFor(view, call, now) }
    : { kind: "zero", missing: missingFor(view, "release-called", now) };
};

/** After a cleared hold: redo the step that was interrupted, and read the one before again (SAFETY A17). */
const returnCard = (view: Seen, step: Step | undefined, returnRead: number): Screen | undefined => {
  const last = lastSaid(view.entries);
  if (!step || last?.event.type !== "hold-cleared" || last.seq <= returnRead) return undefined;
  const phase = stepsOf(view.procedure, view.snapshot.state);
  const before = phase[phase.indexOf(step) - 1];
  return { kind: "return", cleared: last.seq, redo: step, ...(before && { reread: before }) };
};

const isSecondLooks = (step: Step | undefined): boolean =>
  step?.form.kind === "each-restraint" && step.form.round === 2;

/** The phone is the conductor's, but for the second looks: those are the verifier's alone. */
const handOver = (view: Seen, step: Step | undefined, now: Stamp): Screen | undefined => {
  const { crew, holder } = view.snapshot.context;
  const to = isSecondLooks(step) ? "verifier" : "conductor";
  const last = view.entries.at(-1);
  const idle = to === "verifier" && last !== undefined && ageAtMost_ms(last, now) > PROOF_IDLE_ms;
  const inHand = crew[to] === holder;
  return inHand && !idle ? undefined : { kind: "hand-over", to, again: inHand };
};

const stepScreen = (view: Seen, step: Step, now: Now): Screen => {
  if (step.form.kind === "each-restraint") return restraintScreen(view, step, step.form.round);
  if (step.proves.includes("opening-silent")) {
    const pull = lastPull(view.sequence.doc, saidIn(view), step.id);
    if (pull === "called") return { kind: "pulled" };
    if (pull !== "none") {
      const missing = missingFor(view, "discharge-called", now);
      return { kind: "empty", look: step, missing, broken: pull === "broken" };
    }
  }
  const group = groupFrom(openSteps(view.sequence.doc, view.snapshot));
  if (group.length > 1) return { kind: "acts", steps: group };
  const caught = caughtIn(view.entries, (event) => badWords(event, step));
  return { kind: "step", step, ...(caught !== undefined && { caught }) };
};

const badWords = (event: SequenceEvent, step: Step): string | undefined => {
  if (event.type !== "step-done" || event.step !== step.id) return undefined;
  return event.answer ?? (event.reading && readingWords(event.reading));
};

const restraintScreen = (view: Seen, step: Step, round: 1 | 2): Screen => {
  const { facts } = view.snapshot.context;
  const order = round === 1 ? view.rig.restraints : view.rig.restraints.toReversed();
  const fact = round === 1 ? "first-look" : "second-look";
  const number = order.findIndex(({ id }) => facts[factKey(fact, id)] === undefined);
  const restraint = order[number]!;
  const caught = caughtIn(view.entries, (event) =>
    event.type === "restraint-answered" && event.restraint === restraint.id && event.round === round
      ? event.answer
      : undefined,
  );
  return {
    kind: "restraint",
    step,
    restraint,
    round,
    number: number + 1,
    ...(caught !== undefined && { caught }),
  };
};

/** Lines of action text that fit beside everything else at 360 x 640, at about this many letters a line. */
const GROUP_LINES = 8;
const LETTERS_A_LINE = 22;

const isRoutine = (step: Step): boolean =>
  step.form.kind === "act" && !isCritical(step) && !step.hold && !step.timeLimit && !step.warning;

/** Routine acts of one role at one place share a screen, as many as can be read at once and at most five. */
export const groupFrom = (open: readonly Step[]): readonly Step[] => {
  const [first] = open;
  if (!first || !isRoutine(first)) return open.slice(0, 1);
  const group: Step[] = [];
  let lines = 0;
  for (const step of open) {
    lines += Math.ceil(step.text.length / LETTERS_A_LINE);
    const alike = isRoutine(step) && step.role === first.role && step.place === first.place;
    if (!alike || group.length === 5 || (group.length > 0 && lines > GROUP_LINES)) break;
    group.push(step);
  }
  return group;
};

/** A gate that opens or shuts by itself is a new screen: a finger on its way must not find another button. */
const codes = (missing: readonly Missing[]): string => missing.map(({ code }) => ` ${code}`).join("");

/** What names the screen: when it changes, so did what stands under the finger. */
export const keyOf = (screen: Screen): string => {
  switch (screen.kind) {
    case "step":
      return `step ${screen.step.id} ${screen.caught ?? ""}`;
    case "acts":
      return `acts ${screen.steps.map(({ id }) => id).join(" ")}`;
    case "restraint":
      return `restraint ${screen.round} ${screen.restraint.id} ${screen.caught ?? ""}`;
    case "gate":
      return `gate ${screen.call}${codes(screen.missing)}`;
    case "zero":
    case "empty":
      return `${screen.kind}${codes(screen.missing)}`;
    case "sign-on":
      return `sign-on ${screen.roles.join(" ")}`;
    case "waiting":
      return screen.left_s > 0 ? "waiting" : "waited";
    case "hand-over":
      return `hand-over ${screen.to}`;
    case "hold":
      return `hold ${screen.since}`;
    case "return":
      return `return ${screen.cleared}`;
    default:
      return screen.kind;
  }
};

/** Until the second looks are in, nothing on the page may say what the first ones were (SAFETY A6). */
export const hidesFirstLooks = (view: Pick<Seen, "sequence" | "snapshot">): boolean => {
  const step = stepAtHand(view.sequence.doc, view.snapshot);
  return isSecondLooks(step) && view.snapshot.context.hold === undefined;
};
