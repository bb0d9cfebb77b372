import type { Reading } from "../record/reading.ts";
import type { Role } from "./roles.ts";

/**
 * Every word the log may say, frozen from the first release and documented in docs/formats.md.
 * A *permission* is guarded and can be refused. A *report* is a fact of the world: it is accepted
 * in every state and leads to the safe side. A tool that refuses facts gets lied to.
 */

export type RestraintAnswer = "home" | "part" | "open" | "unseen";
export type SkipReason = "not-on-this-rig" | "equipment-missing" | "done-earlier" | "instructor-said";
export type BackTarget = "preparing" | "filling" | "sealing" | "mounting" | "restraining";
/** Why a run stands still: somebody called it, a finding, an interruption, a restart. */
export type HoldKind = "called" | "finding" | "interruption" | "restart";

export type Permission =
  | { readonly type: "signed-on"; readonly person: string; readonly role: Role }
  | {
      readonly type: "step-done";
      readonly step: string;
      readonly seenBy: string;
      readonly answer?: string;
      readonly reading?: Reading;
    }
  | {
      readonly type: "step-skipped";
      readonly step: string;
      readonly reason: SkipReason;
      readonly words: string;
      readonly agreedBy: string;
    }
  | {
      readonly type: "restraint-answered";
      readonly restraint: string;
      readonly round: 1 | 2;
      readonly answer: RestraintAnswer;
      readonly seenBy: string;
    }
  | { readonly type: "fill-called" }
  | { readonly type: "seal-called" }
  | { readonly type: "mount-called" }
  | { readonly type: "restrain-called" }
  | { readonly type: "line-called" }
  /** Swept, asked and answered outside any step: before the air goes on or another pull is made. */
  | { readonly type: "clear-called"; readonly seenBy: string }
  | { readonly type: "air-called" }
  | { readonly type: "pressure-called" }
  | { readonly type: "arm-called" }
  /** Indoors said "zeroed": one tap is the zero and the release call, so that nothing stands between. */
  | { readonly type: "release-called" }
  | { readonly type: "discharge-called" }
  | { readonly type: "discharge-agreed"; readonly person: string; readonly words: string }
  | { readonly type: "wait-called" }
  | { readonly type: "approach-called"; readonly person: string }
  | { readonly type: "close-called" }
  | { readonly type: "back-called"; readonly to: BackTarget; readonly why: string }
  | { readonly type: "hold-cleared"; readonly with: string; readonly why: string }
  | { readonly type: "unresolved-declared"; readonly why: string }
  | {
      readonly type: "unresolved-ended";
      readonly person: string;
      readonly evidence: string;
      readonly done: string;
    }
  | { readonly type: "scrub-called"; readonly why: string };

export type Report =
  | { readonly type: "hold-called"; readonly why: string }
  | { readonly type: "make-safe-called"; readonly why: string }
  | { readonly type: "released" }
  | { readonly type: "nothing-happened" }
  | { readonly type: "window-passed" }
  | { readonly type: "air-seen-on" }
  | { readonly type: "restraint-seen-open"; readonly restraint: string }
  | { readonly type: "line-crossed" }
  | { readonly type: "bottle-moved" }
  | { readonly type: "leak-seen" }
  | { readonly type: "water-in-line" }
  | { readonly type: "gauge-read"; readonly gauge: string; readonly reading: Reading }
  | { readonly type: "staff-called"; readonly why: string }
  | { readonly type: "kit-tagged-out"; readonly part: string; readonly why: string }
  | { readonly type: "noted"; readonly text: string }
  | { readonly type: "corrected"; readonly entry: number; readonly why: string }
  | { readonly type: "handed-over"; readonly to: string }
  | { readonly type: "restarted" }
  | {
      readonly type: "interrupted";
      readonly cause: "background" | "locked" | "idle";
      readonly gap_ms: number;
    }
  | { readonly type: "clock-jumped"; readonly wallGap_ms: number; readonly monoGap_ms: number }
  | { readonly type: "power-low"; readonly percent: number }
  | { readonly type: "refused"; readonly event: string; readonly missing: readonly string[] };

export type SequenceEvent = Permission | Report;
export type EventType = SequenceEvent["type"];
export type PermissionType = Permission["type"];
export type ReportType = Report["type"];

export const REPORT_TYPES = [
  "hold-called",
  "make-safe-called",
  "released",
  "nothing-happened",
  "window-passed",
  "air-seen-on",
  "restraint-seen-open",
  "line-crossed",
  "bottle-moved",
  "leak-seen",
  "water-in-line",
  "gauge-read",
  "staff-called",
  "kit-tagged-out",
  "noted",
  "corrected",
  "handed-over",
  "restarted",
  "interrupted",
  "clock-jumped",
  "power-low",
  "refused",
] as const satisfies readonly ReportType[];

export const PERMISSION_TYPES = [
  "signed-on",
  "step-done",
  "step-skipped",
  "restraint-answered",
  "fill-called",
  "seal-called",
  "mount-called",
  "restrain-called",
  "line-called",
  "clear-called",
  "air-called",
  "pressure-called",
  "arm-called",
  "release-called",
  "discharge-called",
  "discharge-agreed",
  "wait-called",
  "approach-called",
  "close-called",
  "back-called",
  "hold-cleared",
  "unresolved-declared",
  "unresolved-ended",
  "scrub-called",
] as const satisfies readonly PermissionType[];

// A word added above and forgotten in its list fails to compile here.
type Forgotten = Exclude<EventType, (typeof REPORT_TYPES)[number] | (typeof PERMISSION_TYPES)[number]>;
const nothingForgotten: Forgotten[] = [];
void nothingForgotten;

export const isReport = (type: EventType): type is ReportType =>
  (REPORT_TYPES as readonly string[]).includes(type);

/** When an act was entered: wall milliseconds, monotonic tenths of a millisecond, and whose clock. */
export type Stamp = { readonly at: number; readonly mono: number; readonly session: string };

/** One thing that was said, by the person who entered it, at its place in the log. */
export type Act = Stamp & { readonly seq: number; readonly by: string; readonly event: SequenceEvent };
