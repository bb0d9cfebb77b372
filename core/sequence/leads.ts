import { isFinal, isHot, isLive, type StateId } from "./states.ts";
import type { ReportType } from "./vocabulary.ts";

/**
 * Where each report leads from each state: always to the safe side, or nowhere. `undefined` means
 * that the state stays (the report is accepted and logged all the same).
 */
type Lead = (from: StateId) => StateId | undefined;

const stay: Lead = () => undefined;

/** A bottle that may be charged is made safe; two states already are the end of that road. */
const toMakingSafe: Lead = (from) => {
  if (isFinal(from) || from === "unresolved" || from === "making-safe") return undefined;
  return "making-safe";
};

/** As above, but what was seen says nothing new of an unknown bottle: only making safe leads out of it. */
const toMakingSafeIfKnown: Lead = (from) => (from === "unknown" ? undefined : toMakingSafe(from));

/** Where pressure is taken to be gone on evidence that this contradicts, it starts over. */
const ifLiveOrTakenAsEmpty: Lead = (from) =>
  isLive(from) || from === "waiting" || from === "approaching" ? "making-safe" : undefined;

const onlyIfLive: Lead = (from) => (isLive(from) ? "making-safe" : undefined);

/** The zero is void: the call must be made again. */
const zeroLost: Lead = (from) => (from === "zeroed" ? "armed" : undefined);

export const LEADS: { readonly [T in ReportType]: Lead } = {
  "hold-called": zeroLost,
  "make-safe-called": toMakingSafe,
  released: toMakingSafeIfKnown,
  "nothing-happened": toMakingSafeIfKnown,
  "window-passed": zeroLost,
  // While charging, air is what should be on.
  "air-seen-on": (from) => (from === "charging" ? undefined : toMakingSafeIfKnown(from)),
  "restraint-seen-open": (from) => (from === "clearing" ? "restraining" : onlyIfLive(from)),
  "line-crossed": (from) => (from === "armed" || from === "zeroed" ? "charged" : undefined),
  "bottle-moved": (from) =>
    from === "restraining" || from === "clearing" ? "mounting" : ifLiveOrTakenAsEmpty(from),
  "leak-seen": ifLiveOrTakenAsEmpty,
  "water-in-line": onlyIfLive,
  "gauge-read": stay,
  "staff-called": stay,
  "kit-tagged-out": zeroLost,
  noted: stay,
  corrected: zeroLost,
  "handed-over": stay,
  restarted: (from) => {
    if (from === "unresolved" || from === "unknown") return undefined;
    if (isHot(from) || from === "approaching") return "unknown";
    return from === "clearing" ? "restraining" : undefined;
  },
  interrupted: zeroLost,
  "clock-jumped": zeroLost,
  "power-low": zeroLost,
  refused: stay,
};

/** Reports that also hold the run until two people clear it. */
export type HoldTable = {
  readonly whileCold: readonly ReportType[];
  readonly whileLive: readonly ReportType[];
  readonly whileWaiting: readonly ReportType[];
};

export const HOLDS: HoldTable = {
  // What stops a cold run where it stands, to be put right by hand.
  whileCold: [
    "restraint-seen-open",
    "bottle-moved",
    "leak-seen",
    "water-in-line",
    "kit-tagged-out",
    "power-low",
  ],
  // Whoever crossed must be out, a tagged part or a low battery seen to.
  whileLive: ["line-crossed", "kit-tagged-out", "power-low"],
  // The line is kept until the wait is over, and nobody goes on while somebody is beyond it.
  whileWaiting: ["line-crossed"],
};
