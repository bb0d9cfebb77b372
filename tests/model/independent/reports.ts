import type { Act } from "../../../core/sequence/vocabulary.ts";
import { COLD, holding, isHot, isOver, LIVE } from "./evidence.ts";
import type { Documents, Memory } from "./memory.ts";
import { alarming, gaugeSaid } from "./reading.ts";

/** The model's own word on where a report leads: to the safe side, or nowhere. */

const EMPTY_EVIDENCE = ["line-at-zero", "bottle-at-zero", "opening-silent"];

/** The evidence that a correction takes away, with all that rested on it. */
const lostBy = (docs: Documents, memory: Memory, entry: number): readonly string[] => {
  const named = Object.keys(memory.given).filter(
    (key) => memory.given[key]?.seq === entry && holding(docs, memory, key),
  );
  const rest = named.includes("supply-isolated") ? EMPTY_EVIDENCE : [];
  return [...named, ...rest];
};

export const afterReport = (docs: Documents, memory: Memory, act: Act): string => {
  const { state } = memory;
  const { event } = act;
  const live = LIVE.includes(state);
  const takenAsEmpty = state === "waiting" || state === "approaching";
  const settled = isOver(state) || state === "unresolved" || state === "making-safe";
  const safe = settled ? state : "making-safe";
  switch (event.type) {
    case "make-safe-called":
      return safe;
    case "released":
    case "nothing-happened":
      return state === "unknown" ? state : safe;
    case "air-seen-on":
      return state === "unknown" || state === "charging" ? state : safe;
    case "leak-seen":
      return live || takenAsEmpty ? "making-safe" : state;
    case "water-in-line":
      return live ? "making-safe" : state;
    case "restraint-seen-open":
      return live ? "making-safe" : state === "clearing" ? "restraining" : state;
    case "bottle-moved":
      if (live || takenAsEmpty) return "making-safe";
      return state === "restraining" || state === "clearing" ? "mounting" : state;
    case "line-crossed":
      return state === "armed" || state === "zeroed" ? "charged" : state;
    case "restarted":
      if (state === "unresolved" || isOver(state)) return state;
      if (isHot(state) || state === "approaching") return "unknown";
      return state === "clearing" ? "restraining" : state;
    case "gauge-read":
      return alarming(docs, state, gaugeSaid(docs, act)) ? "making-safe" : state;
    case "corrected":
      if (state === "zeroed") return "armed";
      if (state === "waiting" || state === "approaching") {
        const lost = lostBy(docs, memory, event.entry);
        if (lost.includes("emptied-by-word")) return "unresolved";
        if (lost.some((key) => EMPTY_EVIDENCE.includes(key))) return "making-safe";
      }
      return state;
    case "hold-called":
    case "window-passed":
    case "interrupted":
    case "clock-jumped":
    case "power-low":
    case "kit-tagged-out":
      return state === "zeroed" ? "armed" : state;
    default:
      return state;
  }
};

/** Whether a report stops the run as a finding, whoever makes it. */
export const isFindingReport = (state: string, type: string): boolean => {
  if (COLD.includes(state))
    return [
      "restraint-seen-open",
      "bottle-moved",
      "leak-seen",
      "water-in-line",
      "kit-tagged-out",
      "power-low",
    ].includes(type);
  if (state === "waiting") return type === "line-crossed";
  return LIVE.includes(state) && ["line-crossed", "kit-tagged-out", "power-low"].includes(type);
};
