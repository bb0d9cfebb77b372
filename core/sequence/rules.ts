import { findStep, isCritical } from "../procedure/procedure.ts";
import { ageAtMost_ms, waitedAtLeast_ms } from "./clock.ts";
import {
  type Context,
  type Doc,
  openSteps,
  rolesHeld,
  type Snapshot,
  stands,
  stepAtHand,
} from "./context.ts";
import { type FactId, factRow } from "./facts.ts";
import { gaugesAgree } from "./gauges.ts";
import { isAnswered } from "./good-answer.ts";
import { conflictingRole, ROLES } from "./roles.ts";
import type { StateId } from "./states.ts";
import type { Act, PermissionType, SequenceEvent, Stamp } from "./vocabulary.ts";

/**
 * What is judged afresh at a permission because it follows from counters, clocks and people rather
 * than from one entry. Together with the facts of the table it is everything that can refuse.
 */
export type Rule = {
  readonly id: string;
  readonly words: string;
  readonly remedy: string;
  readonly at: readonly PermissionType[];
  readonly holds: (doc: Doc, snapshot: Snapshot, act: Act) => boolean;
};

const TO_RELEASE: readonly PermissionType[] = [
  "fill-called",
  "seal-called",
  "mount-called",
  "restrain-called",
  "line-called",
  "air-called",
  "pressure-called",
  "arm-called",
  "release-called",
];
const TO_PEOPLE: readonly PermissionType[] = ["wait-called", "approach-called", "close-called"];
const PROVING: readonly PermissionType[] = [
  "step-done",
  "step-skipped",
  "restraint-answered",
  "clear-called",
];

/** Milliseconds of the wait that are left; the whole wait where the clocks cannot tell. */
export const waitLeft_ms = (doc: Doc, context: Context, now: Stamp): number => {
  const { waitAfterDoubt_s, waitAfterRelease_s } = doc.rig.limits;
  const wait_ms = (context.doubt ? waitAfterDoubt_s : waitAfterRelease_s) * 1000;
  const waited_ms = context.waitSince ? waitedAtLeast_ms(context.waitSince, now) : 0;
  return Math.max(0, wait_ms - waited_ms);
};

/** A bad answer is a fact: nobody's role, turn or hold may keep it out of the log. */
export const isBadAnswer = (event: SequenceEvent): boolean =>
  event.type === "restraint-answered" && event.answer !== "home";

const making = (state: StateId): boolean => state === "making-safe";

type Of<T extends SequenceEvent["type"]> = Extract<SequenceEvent, { type: T }>;

/** A rule about one permission: it has nothing to say of any other. */
const about =
  <T extends PermissionType>(
    type: T,
    holds: (event: Of<T>, doc: Doc, snapshot: Snapshot, act: Act) => boolean,
  ) =>
  (doc: Doc, snapshot: Snapshot, act: Act): boolean =>
    act.event.type !== type || holds(act.event as Of<T>, doc, snapshot, act);

const inCrew = (context: Context, person: string): boolean =>
  ROLES.some((role) => context.crew[role] === person);

/** The fact that an act would establish, and the one that must stand before it. */
const proven = (doc: Doc, event: SequenceEvent): readonly FactId[] => {
  if (event.type === "step-done") return findStep(doc.procedure, event.step)?.step.proves ?? [];
  if (event.type === "restraint-answered") return [event.round === 1 ? "first-look" : "second-look"];
  return [];
};

export const RULES: readonly Rule[] = [
  {
    id: "no-hold",
    words: "the run is on hold",
    remedy: "Two people clear the hold, with a reason.",
    at: [...TO_RELEASE, ...TO_PEOPLE, ...PROVING, "discharge-called"],
    // Making safe waits for nothing: its own steps go on while a hold stands. A pull does wait.
    holds: (_doc, { context, state }, { event }) =>
      context.hold === undefined ||
      isBadAnswer(event) ||
      (making(state) && (event.type === "step-done" || event.type === "clear-called")),
  },
  {
    id: "steps-done",
    words: "steps of this stage are still open",
    remedy: "Do the open steps in their order.",
    at: [...TO_RELEASE, "wait-called", "close-called"],
    holds: (doc, snapshot) => openSteps(doc, snapshot).length === 0,
  },
  {
    id: "conductor-calls",
    words: "only the conductor calls the run on",
    remedy: "Hand the phone to the conductor.",
    at: [...TO_RELEASE, ...TO_PEOPLE, "discharge-called"],
    holds: (_doc, { context }, act) => context.crew.conductor === act.by,
  },
  {
    id: "crew-complete",
    words: "not every role is taken",
    remedy: `Sign on: ${ROLES.join(", ")}.`,
    at: ["fill-called"],
    holds: (_doc, { context }) => ROLES.every((role) => context.crew[role] !== undefined),
  },
  {
    id: "rig-in-service",
    words: "the rig is tagged out of service",
    remedy: "Call staff; the tag says why.",
    at: ["fill-called"],
    holds: (doc) => doc.rig.service.in,
  },
  {
    id: "readings-inside",
    words: "a reading lies outside the limits",
    remedy: "Put it right and read again, or make safe.",
    at: TO_RELEASE,
    holds: (_doc, { context }) => context.outside.length === 0,
  },
  {
    id: "gauges-agree",
    words: "two gauges on the same air disagree",
    remedy: "Read both again when the air stands still, or make safe.",
    at: ["pressure-called"],
    holds: (doc, { context }) => gaugesAgree(doc, context.readings),
  },
  {
    id: "time-at-pressure",
    words: "the bottle has stood at pressure too long",
    remedy: "Make safe.",
    at: ["arm-called", "release-called"],
    holds: (doc, { context }, act) =>
      context.pressureSince !== undefined &&
      ageAtMost_ms(context.pressureSince, act) <= doc.rig.limits.timeAtPressure_s * 1000,
  },
  {
    id: "zeros-left",
    words: "the recorder was zeroed as often as the rig allows",
    remedy: "Make safe.",
    at: ["release-called"],
    holds: (doc, { context }) => context.zeros < doc.rig.limits.zeros,
  },
  {
    id: "pulls-left",
    words: "no pull is left",
    remedy: "Say: pressure unresolved. Keep the line.",
    at: ["discharge-called"],
    holds: (doc, { context }) => context.pulls < doc.rig.limits.pulls,
  },
  {
    id: "wait-over",
    words: "the wait is not over",
    remedy: "Keep the line until it is.",
    at: ["approach-called"],
    holds: (doc, { context }, act) => waitLeft_ms(doc, context, act) === 0,
  },
  {
    id: "one-approaches",
    words: "the one who goes is not signed on",
    remedy: "Name one person of the crew.",
    at: ["approach-called"],
    holds: about("approach-called", (event, _doc, { context }) => inCrew(context, event.person)),
  },
  {
    id: "role-free",
    words: "this person has held a role that must be another's",
    remedy: "Somebody else takes this role.",
    at: ["signed-on"],
    holds: about(
      "signed-on",
      (event, doc, { context }) =>
        !conflictingRole(doc.mustDiffer, rolesHeld(context, event.person), event.role),
    ),
  },
  {
    id: "step-at-hand",
    words: "another step comes first",
    remedy: "Do the step that is shown.",
    at: ["step-done", "step-skipped"],
    holds: (doc, snapshot, { event }) =>
      (event.type !== "step-done" && event.type !== "step-skipped") ||
      stepAtHand(doc, snapshot)?.id === event.step,
  },
  {
    id: "right-role",
    words: "this step belongs to another role",
    remedy: "The one who holds the role does it and says so.",
    at: ["step-done", "restraint-answered"],
    holds: (doc, { context }, { event }) => {
      if (isBadAnswer(event)) return true;
      if (event.type === "restraint-answered")
        return context.crew[event.round === 1 ? "installer" : "verifier"] === event.seenBy;
      if (event.type !== "step-done") return true;
      const role = findStep(doc.procedure, event.step)?.step.role;
      return role !== undefined && context.crew[role] === event.seenBy;
    },
  },
  {
    id: "answer-complete",
    words: "the answer is missing or cannot be read",
    remedy: "Answer with a state from the list, or a plain number as the step's own instrument shows it.",
    at: ["step-done"],
    holds: about("step-done", (event, doc) => {
      const form = findStep(doc.procedure, event.step)?.step.form;
      return form !== undefined && isAnswered(form, event);
    }),
  },
  {
    id: "waited-out",
    words: "the time of this step is not over",
    remedy: "Wait until it is.",
    at: ["step-done"],
    holds: about("step-done", (event, doc, { context }, act) => {
      const form = findStep(doc.procedure, event.step)?.step.form;
      if (form?.kind !== "wait") return true;
      return (
        context.stepSince !== undefined && waitedAtLeast_ms(context.stepSince, act) >= form.seconds * 1000
      );
    }),
  },
  {
    id: "may-be-skipped",
    words: "this step cannot be skipped",
    remedy: "Do it, or hold.",
    at: ["step-skipped"],
    // A reading outside is put right, not passed over: nothing could bring it inside again.
    holds: about("step-skipped", (event, doc, { context }) => {
      const step = findStep(doc.procedure, event.step)?.step;
      if (!step?.skippable || isCritical(step)) return false;
      return step.form.kind !== "measure" || !context.outside.includes(step.form.instrument);
    }),
  },
  {
    id: "second-nod",
    words: "a skip needs a second person of the crew and a reason in words",
    remedy: "Another person of the crew agrees; write why.",
    at: ["step-skipped"],
    holds: about(
      "step-skipped",
      (event, _doc, { context }, act) =>
        event.agreedBy !== act.by && inCrew(context, event.agreedBy) && event.words.trim() !== "",
    ),
  },
  {
    id: "restraint-known",
    words: "the rig has no such restraint",
    remedy: "Name one that is marked on the metal.",
    at: ["restraint-answered"],
    holds: about("restraint-answered", (event, doc) =>
      doc.rig.restraints.some(({ id }) => id === event.restraint),
    ),
  },
  {
    id: "proved-before",
    words: "what must be proved before this does not stand",
    remedy: "First every first look, then the pull test, then the second looks.",
    at: ["step-done", "restraint-answered"],
    holds: (doc, { context }, { event }) =>
      isBadAnswer(event) ||
      proven(doc, event).every((id) => {
        const after = factRow(doc.facts, id)?.after;
        return after === undefined || stands(doc, context, after);
      }),
  },
  {
    id: "other-person",
    words: "the second look is another person's than the first",
    remedy: "Hand the phone to the verifier.",
    at: ["restraint-answered"],
    holds: about(
      "restraint-answered",
      (event, _doc, { context }) =>
        isBadAnswer(event) ||
        event.round === 1 ||
        context.facts[`first-look:${event.restraint}`]?.person !== event.seenBy,
    ),
  },
  {
    id: "verifier-holds-phone",
    words: "the verifier enters the second look alone",
    remedy: "Hand the phone over; the verifier gives the own code.",
    at: ["restraint-answered"],
    holds: about(
      "restraint-answered",
      (event, _doc, { context }, act) =>
        isBadAnswer(event) ||
        event.round === 1 ||
        (context.holder === event.seenBy && act.by === event.seenBy),
    ),
  },
  {
    id: "on-hold",
    words: "there is no hold to clear",
    remedy: "Go on.",
    at: ["hold-cleared"],
    holds: (_doc, { context }) => context.hold !== undefined,
  },
  {
    id: "two-clear",
    words: "two people of the crew clear a hold, with a reason: the conductor, and whoever called it",
    remedy: "Both give their codes; the responsible person may stand in for the caller.",
    at: ["hold-cleared"],
    holds: about("hold-cleared", (event, doc, { context }, act) => {
      const two = [act.by, event.with];
      const caller = context.hold?.by;
      const conductor = context.crew.conductor;
      const responsible = two.some((person) => doc.rig.responsible.includes(person));
      const known = two.every((person) => inCrew(context, person) || doc.rig.responsible.includes(person));
      const callerThere =
        caller === undefined ||
        caller === conductor ||
        !inCrew(context, caller) ||
        two.includes(caller) ||
        responsible;
      return (
        act.by !== event.with &&
        known &&
        conductor !== undefined &&
        two.includes(conductor) &&
        callerThere &&
        event.why.trim() !== ""
      );
    }),
  },
  {
    id: "responsible-person",
    words: "only a responsible person named on the rig can say this, in words",
    remedy: "Call the responsible person; they give their own code.",
    at: ["discharge-agreed", "unresolved-ended"],
    holds: (doc, _snapshot, { event }) => {
      if (event.type === "discharge-agreed")
        return doc.rig.responsible.includes(event.person) && event.words.trim() !== "";
      if (event.type !== "unresolved-ended") return true;
      return (
        doc.rig.responsible.includes(event.person) && event.evidence.trim() !== "" && event.done.trim() !== ""
      );
    },
  },
  {
    id: "crew-said-clear",
    words: "whoever called clear is not signed on",
    remedy: "Somebody of the crew sweeps and calls it.",
    at: ["clear-called"],
    holds: about("clear-called", (event, _doc, { context }) => inCrew(context, event.seenBy)),
  },
];
