import type { Act } from "../../core/sequence/vocabulary.ts";
import { INVARIANTS, type Step } from "./independent/invariants.ts";
import { BLANK, type Documents, type Memory } from "./independent/memory.ts";
import { leadsTo, refusals } from "./independent/permissions.ts";
import { alarming, gaugeSaid } from "./independent/reading.ts";
import { remember } from "./independent/remember.ts";
import { afterReport } from "./independent/reports.ts";

/**
 * A second, plain-TypeScript account of the sequence, written from SAFETY and DESIGN and not from
 * core, of which it uses the types only. It reads the events and the documents, never a snapshot.
 * It says of each act whether it must be accepted, with which refusals otherwise, and where it
 * leads: a sequence that lets too much through and one that refuses too much both disagree with it.
 */

export type { Documents, Memory } from "./independent/memory.ts";

export const begin = (): Memory => BLANK;

export type Verdict =
  | { readonly accepted: true; readonly state: string }
  | { readonly accepted: false; readonly codes: readonly string[] };

const REPORT =
  /^(hold-called|make-safe-called|released|nothing-happened|window-passed|air-seen-on|restraint-seen-open|line-crossed|bottle-moved|leak-seen|water-in-line|gauge-read|staff-called|kit-tagged-out|noted|corrected|handed-over|restarted|interrupted|clock-jumped|power-low|refused)$/;

export const judge = (docs: Documents, memory: Memory, act: Act): Verdict => {
  if (REPORT.test(act.event.type)) return { accepted: true, state: afterReport(docs, memory, act) };
  const state = leadsTo(memory, act);
  // A reading that alarms is a report in the clothes of a step: it is never refused.
  const alarm = act.event.type === "step-done" && alarming(docs, memory.state, gaugeSaid(docs, act));
  if (alarm && state !== undefined) return { accepted: true, state: "making-safe" };
  const codes = refusals(docs, memory, act);
  if (act.event.type === "back-called" || act.event.type === "scrub-called")
    return state ? { accepted: true, state } : { accepted: false, codes: ["not-here"] };
  if (state !== undefined && codes.length === 0) return { accepted: true, state };
  return { accepted: false, codes: codes.length > 0 ? codes : ["not-here"] };
};

/** What is remembered once the sequence has taken the act and moved to `state`. */
export const afterwards = (docs: Documents, memory: Memory, act: Act, state: string): Memory =>
  remember(docs, memory, act, state);

/** The numbers of the invariants that a step of the sequence breaks. */
export const broken = (docs: Documents, step: Step): readonly number[] =>
  INVARIANTS.filter((invariant) => !invariant.holds(docs, step)).map(({ number }) => number);

export const INVARIANT_COUNT = INVARIANTS.length;
