import { LEADS } from "../../core/sequence/leads.ts";
import { STATES, type StateId } from "../../core/sequence/states.ts";
import {
  type EventType,
  isReport,
  PERMISSION_TYPES,
  REPORT_TYPES,
  type ReportType,
  type SequenceEvent,
} from "../../core/sequence/vocabulary.ts";
import { code, table } from "./page.ts";

type Fields<T extends EventType> = Exclude<keyof Extract<SequenceEvent, { type: T }>, "type">;

/** Every word with its meaning and every field of it: the compiler refuses one too many or too few. */
type Described = {
  readonly [T in EventType]: {
    readonly means: string;
    readonly fields: { readonly [F in Fields<T> & string]-?: string };
  };
};

const why = "why, in words";
const reading = "what was typed, as typed";

const WORDS: Described = {
  "signed-on": { means: "a person takes a role", fields: { person: "code", role: "role" } },
  "step-done": {
    means: "a step was done, or looked at and answered",
    fields: {
      step: "the step's id",
      seenBy: "who did or saw it",
      answer: "look: the state seen",
      reading: `measure: ${reading}`,
    },
  },
  "step-skipped": {
    means: "an ordinary step is left out",
    fields: { step: "the step's id", reason: "reason class", words: why, agreedBy: "a second person" },
  },
  "restraint-answered": {
    means: "one restraint was touched and seen",
    fields: {
      restraint: "the restraint's id",
      round: "1 installer, 2 verifier",
      answer: "home, part, open, unseen",
      seenBy: "who touched it",
    },
  },
  "fill-called": { means: "on to the fill", fields: {} },
  "seal-called": { means: "on to the seal", fields: {} },
  "mount-called": { means: "on to the mount", fields: {} },
  "restrain-called": { means: "on to the restraints", fields: {} },
  "line-called": { means: "everybody to the line, the stand is left", fields: {} },
  "clear-called": {
    means: "swept, asked and called clear outside any step",
    fields: { seenBy: "who swept" },
  },
  "air-called": { means: "air may go on", fields: {} },
  "pressure-called": { means: "the bottle is at pressure", fields: {} },
  "arm-called": { means: "the post is left, the release may be taken in hand", fields: {} },
  "release-called": { means: "indoors said zeroed: the zero and the release call in one", fields: {} },
  "discharge-called": { means: "one more pull, to empty the bottle", fields: {} },
  "discharge-agreed": {
    means: "the responsible person agrees to a pull",
    fields: { person: "code of the responsible person", words: why },
  },
  "wait-called": { means: "shown empty; the wait begins", fields: {} },
  "approach-called": { means: "one person goes to the stand", fields: { person: "who goes" } },
  "close-called": { means: "the run is over", fields: {} },
  "back-called": { means: "back to an earlier cold phase", fields: { to: "the phase", why } },
  "hold-cleared": { means: "two people clear the hold", fields: { with: "the second person", why } },
  "unresolved-declared": { means: "the bottle cannot be emptied or shown empty", fields: { why } },
  "unresolved-ended": {
    means: "the responsible person ends it",
    fields: { person: "code", evidence: "what was seen", done: "what was done" },
  },
  "scrub-called": { means: "the run is given up, cold", fields: { why } },
  "hold-called": { means: "stop where you are", fields: { why } },
  "make-safe-called": { means: "bring the energy to zero", fields: { why } },
  released: { means: "it went", fields: {} },
  "nothing-happened": { means: "it did not go", fields: {} },
  "window-passed": { means: "the time after the zero is over", fields: {} },
  "air-seen-on": { means: "air was seen on", fields: {} },
  "restraint-seen-open": { means: "a restraint was seen open", fields: { restraint: "the restraint's id" } },
  "line-crossed": { means: "somebody crossed the line", fields: {} },
  "bottle-moved": { means: "the bottle was moved", fields: {} },
  "leak-seen": { means: "a leak was seen", fields: {} },
  "water-in-line": { means: "water was seen in the air line", fields: {} },
  "gauge-read": { means: "a gauge was read outside any step", fields: { gauge: "the gauge's id", reading } },
  "staff-called": { means: "staff were called", fields: { why } },
  "kit-tagged-out": { means: "a part was taken out of service", fields: { part: "which", why } },
  noted: { means: "anything worth keeping", fields: { text: "in words" } },
  corrected: { means: "an earlier entry was mistaken; both stay", fields: { entry: "its seq", why } },
  "handed-over": { means: "the phone changed hands", fields: { to: "code of who has it now" } },
  restarted: { means: "the log was opened again after a stop", fields: {} },
  interrupted: {
    means: "nobody was at the screen",
    fields: { cause: "background, locked or idle", gap_ms: "how long, ms" },
  },
  "clock-jumped": {
    means: "wall clock and monotonic clock disagree",
    fields: { wallGap_ms: "ms by the wall clock", monoGap_ms: "ms by the monotonic clock" },
  },
  "power-low": { means: "the phone's charge is low", fields: { percent: "charge" } },
  refused: {
    means: "a permission was refused",
    fields: { event: "which", missing: "codes of all that was missing" },
  },
};

const fieldsOf = (type: EventType): string =>
  Object.entries(WORDS[type].fields)
    .map(([field, meaning]) => `${code(field)} ${meaning}`)
    .join("; ") || "–";

/** Where a report leads, state by state; states that stay where they are go without saying. */
const leadsOf = (type: ReportType): string => {
  const from = new Map<StateId, StateId[]>();
  for (const state of STATES) {
    const to = LEADS[type](state);
    if (to !== undefined) from.set(to, [...(from.get(to) ?? []), state]);
  }
  return [...from].map(([to, states]) => `${to} (from ${states.join(", ")})`).join("; ") || "the state stays";
};

export const permissionTable = (): string =>
  table(
    ["permission", "means", "fields"],
    PERMISSION_TYPES.map((type) => [code(type), WORDS[type].means, fieldsOf(type)]),
  );

export const reportTable = (): string =>
  table(
    ["report", "means", "fields", "leads to"],
    REPORT_TYPES.filter(isReport).map((type) => [
      code(type),
      WORDS[type].means,
      fieldsOf(type),
      leadsOf(type),
    ]),
  );
