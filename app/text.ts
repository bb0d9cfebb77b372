import type { Issue } from "../core/result.ts";
import type { PlaceKind } from "../core/rig/rig.ts";
import type { FactId, Gate } from "../core/sequence/facts.ts";
import type { Role } from "../core/sequence/roles.ts";
import type { StateId } from "../core/sequence/states.ts";
import type {
  BackTarget,
  EventType,
  HoldKind,
  ReportType,
  RestraintAnswer,
  SkipReason,
} from "../core/sequence/vocabulary.ts";

/**
 * WORDING. Codes and facts live in core; what people read lives here. One word per thing, verb
 * first, no blame. WARNING: this module is part of the main bundle.
 */

export const STATE_TITLE: Record<StateId, string> = {
  preparing: "Prepare",
  filling: "Fill",
  sealing: "Seal",
  mounting: "Mount",
  restraining: "Restrain",
  clearing: "Clear",
  charging: "Pressurize",
  charged: "At pressure",
  armed: "Armed",
  zeroed: "Release",
  "making-safe": "Make safe",
  waiting: "Wait",
  unresolved: "Pressure unresolved",
  unknown: "State unknown",
  approaching: "Approach",
  closed: "Closed",
  scrubbed: "Scrubbed",
};

export const ROLE_NAME: Record<Role, string> = {
  conductor: "Conductor",
  installer: "Installer",
  verifier: "Verifier",
  releaser: "Releaser",
  caller: "Caller",
};

export const ROLE_DUTY: Record<Role, string> = {
  conductor: "holds this phone, reads out",
  installer: "fills, seals, mounts",
  verifier: "looks again, alone",
  releaser: "holds the cord",
  caller: "indoors, at the recorder",
};

export const PLACE_NAME: Record<PlaceKind, string> = {
  stand: "stand",
  post: "post",
  line: "line",
  indoors: "indoors",
  bench: "bench",
};

export type CallWords = {
  /** Said aloud: the stage is complete. */
  readonly say: string;
  /** On the button: what opens. */
  readonly act: string;
  readonly title: string;
};

export const CALL: Record<Gate, CallWords> = {
  "fill-called": { title: "Prepared", say: "Prepare complete. Fill.", act: "Go to fill" },
  "seal-called": { title: "Filled", say: "Fill complete. Seal.", act: "Go to seal" },
  "mount-called": { title: "Sealed", say: "Seal complete. Mount.", act: "Go to mount" },
  "restrain-called": { title: "Mounted", say: "Mount complete. Restrain.", act: "Go to restrain" },
  "line-called": {
    title: "Every restraint proved twice",
    say: "All back to the line.",
    act: "Leave the stand",
  },
  "air-called": { title: "Clear for air", say: "Charging!", act: "Air on" },
  "pressure-called": { title: "Gauge stands still", say: "At pressure.", act: "At pressure" },
  "arm-called": { title: "Ready to arm", say: "Armed.", act: "Arm" },
  "release-called": { title: "Ask indoors for zero", say: "Indoors: zero!", act: "Zeroed: release" },
  "discharge-called": { title: "Empty it by a pull", say: "Discharge. Pull!", act: "Pull" },
  "wait-called": { title: "Shown empty", say: "Empty. Keep the line.", act: "Start the wait" },
  "approach-called": { title: "The wait is over", say: "One goes.", act: "Send" },
  "close-called": { title: "Run complete", say: "Close complete.", act: "Close the run" },
};

export const ANSWER: Record<RestraintAnswer, string> = {
  home: "Fully home",
  part: "Part closed",
  open: "Open",
  unseen: "Cannot see",
};

export const FACT_NAME: Record<FactId, string> = {
  "phone-ready": "phone check",
  "card-on-site": "paper card",
  "line-set-out": "line set out",
  "bottle-fit": "bottle check",
  "gauges-at-zero": "gauges at zero",
  "comms-checked": "voice check",
  "release-runs-free": "dry run of the release",
  "water-measured": "water",
  "leak-checked": "leak check",
  "lines-clear": "cord and air line look",
  mounted: "bottle seated",
  "first-look": "first look",
  "pull-tested": "pull test",
  "second-look": "second look",
  "supply-in-band": "supply reading",
  "regulator-set": "regulator",
  "glasses-on": "glasses",
  clear: "clear call",
  "at-pressure": "pressure reading",
  "supply-isolated": "supply shut",
  "post-left": "post empty",
  "restraints-in-view": "marks seen from the line",
  "cord-in-hand": "cord in hand",
  "indoors-ready": "indoors ready",
  "words-repeated": "words repeated back",
  "proof-at-air": "restraint proof before air",
  "discharge-word": "word for the pull",
  "line-at-zero": "line at zero",
  "bottle-at-zero": "bottle at zero",
  "opening-silent": "opening silent",
  "emptied-by-word": "responsible person's word",
};

export const HOLD_TITLE: Record<HoldKind, string> = {
  called: "Hold. Nothing goes on.",
  finding: "Hold: something was found",
  interruption: "Hold: you were interrupted",
  restart: "Hold: the app was restarted",
};

export const BACK_NAME: Record<BackTarget, string> = {
  preparing: "Prepare",
  filling: "Fill",
  sealing: "Seal",
  mounting: "Mount",
  restraining: "Restrain",
};

export const SKIP_REASON: Record<SkipReason, string> = {
  "not-on-this-rig": "Not on this rig",
  "equipment-missing": "Equipment is missing",
  "done-earlier": "Done earlier",
  "instructor-said": "Instructor said so",
};

/** What was said to have happened, as it stands on the page and in the log. */
export const REPORT: Record<ReportType, string> = {
  "hold-called": "Hold",
  "make-safe-called": "Make safe",
  released: "It went",
  "nothing-happened": "Pulled, and nothing happened",
  "window-passed": "Window missed",
  "air-seen-on": "Air was already on",
  "restraint-seen-open": "A restraint is open",
  "line-crossed": "Somebody crossed the line",
  "bottle-moved": "The bottle moved",
  "leak-seen": "It leaks",
  "water-in-line": "Water in the air line",
  "gauge-read": "A gauge reads",
  "staff-called": "Staff called",
  "kit-tagged-out": "A part is tagged out",
  noted: "Note",
  corrected: "An entry was a mistake",
  "handed-over": "Phone handed over",
  restarted: "The app was restarted",
  interrupted: "Interrupted",
  "clock-jumped": "The phone's clock jumped",
  "power-low": "Battery low",
  refused: "Refused",
};

/** Said first while making safe: what this is, and what it means for the people. */
export const MAKING_SAFE_FOR: Partial<Record<EventType, string>> = {
  "nothing-happened": "MISFIRE. It may still go: hands off the cord, keep the line.",
  released: "It went. Show that it is empty.",
  "make-safe-called": "Making safe. Keep the line.",
  "restraint-seen-open": "A restraint is open, the bottle may be full: widen the sectors.",
  "bottle-moved": "The bottle moved and may be full: widen the sectors.",
  "leak-seen": "It leaks: nobody goes near.",
  "water-in-line": "Water in the line: shut the supply, leave the coupling.",
  "air-seen-on": "Air was on: treat it as full.",
  "gauge-read": "Pressure where it must not be: nobody goes near.",
};

/** A misfire keeps its name; what it asks for changes with what is done about it. */
export const MISFIRE = {
  /** Beside the pull itself, where "hands off the cord" would say the opposite of the page. */
  emptying: "MISFIRE. Empty it from the line only.",
  went: "MISFIRE, and then it went. Show that it is empty.",
};

/** Where a code alone would leave a crew guessing: shorter, or nearer to what they see. Else core's own words. */
const ISSUE: Record<string, { readonly detail: string; readonly remedy: string }> = {
  "not-the-writer": {
    detail: "Another page writes this run.",
    remedy: "Go on there, or take over here.",
  },
  "tap-too-soon": {
    detail: "The screen had just changed under the finger.",
    remedy: "Read it, then tap.",
  },
};

/** What is wrong and what to do, as sentences. */
export const issueWords = ({
  code,
  detail,
  remedy,
}: Issue): { readonly what: string; readonly todo: string } => {
  const own = ISSUE[code];
  return { what: sentence(own?.detail ?? detail), todo: sentence(own?.remedy ?? remedy) };
};

/** The same in one line. */
export const issueLine = (issue: Issue): string => {
  const { what, todo } = issueWords(issue);
  return `${what} ${todo}`;
};

export const sentence = (words: string): string => {
  const trimmed = words.trim();
  if (trimmed === "") return "";
  const start = trimmed[0]!.toUpperCase() + trimmed.slice(1);
  return /[.!?]$/.test(start) ? start : `${start}.`;
};
