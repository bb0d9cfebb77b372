import { findStep, type Procedure } from "../../core/procedure/procedure.ts";
import type { LogEvent } from "../../core/record/entry.ts";
import type { Reading } from "../../core/record/reading.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { FactId, Gate } from "../../core/sequence/facts.ts";
import type { ReportType } from "../../core/sequence/vocabulary.ts";
import { ANSWER, BACK_NAME, CALL, FACT_NAME, REPORT, ROLE_NAME, SKIP_REASON } from "../text.ts";

/** What a run's own rig, procedure and log say, as words: composed from the register in app/text.ts. */

const CAUSE = {
  background: "the app was in the background",
  locked: "the screen was locked",
  idle: "nobody touched it",
};

/** The run's own code wherever a procedure says {run}. */
export const withRun = (words: string, run: string): string => words.replaceAll("{run}", run);

export const readingWords = (reading: Reading): string => {
  switch (reading.kind) {
    case "single":
      return `${reading.typed} ${reading.unit}`.trim();
    case "difference":
      return `${reading.gross} less ${reading.tare} ${reading.unit}`;
    case "volume":
      return `${reading.typed} ${reading.unit} at ${reading.temperature} ${reading.temperatureUnit}`;
  }
};

type Documents = { readonly rig: Rig; readonly procedure: Procedure };

export const markOf = (rig: Rig, restraint: string): string =>
  rig.restraints.find(({ id }) => id === restraint)?.mark ?? restraint;

/** "over-centre latch" is a latch when it is spoken of. */
export const kindOf = (rig: Rig): string => rig.restraints[0]?.kind.split(" ").at(-1) ?? "restraint";

export const kindsOf = (rig: Rig): string => {
  const kind = kindOf(rig);
  return `${kind}${/(ch|sh|s|x)$/.test(kind) ? "es" : "s"}`;
};

/** Keys of facts in the context, each fact once: "first look B; pull test; second look A, B, C, D". */
export const factKeysInWords = (keys: readonly string[], rig: Rig): string => {
  const marks = new Map<FactId, string[]>();
  for (const key of keys) {
    const [id, restraint] = key.split(":") as [FactId, string | undefined];
    marks.set(id, [...(marks.get(id) ?? []), ...(restraint === undefined ? [] : [markOf(rig, restraint)])]);
  }
  return [...marks].map(([id, of]) => `${FACT_NAME[id]} ${of.toSorted().join(", ")}`.trim()).join("; ");
};

/** One entry of the log, in one line. */
export const eventWords = (event: LogEvent, { rig, procedure }: Documents): string => {
  const stepText = (id: string) => findStep(procedure, id)?.step.text ?? id;
  switch (event.type) {
    case "opened":
      return `Run ${event.run} opened${event.drill ? ", DRILL" : ""}${event.transcribed ? ", transcribed from paper" : ""}`;
    case "kept":
      return event.words;
    case "signed-on":
      return `${ROLE_NAME[event.role]} signed on`;
    case "step-done":
      return `${stepText(event.step)} ${event.answer ?? (event.reading ? readingWords(event.reading) : "Done")}`;
    case "step-skipped":
      return `Skipped: ${stepText(event.step)} (${SKIP_REASON[event.reason]}: ${event.words})`;
    case "restraint-answered":
      return `${event.round === 1 ? "First" : "Second"} look, ${markOf(rig, event.restraint)}: ${ANSWER[event.answer].toLowerCase()}`;
    case "restraint-seen-open":
      return `${markOf(rig, event.restraint)} was seen open`;
    case "gauge-read":
      return `${rig.gauges.find(({ id }) => id === event.gauge)?.name ?? event.gauge}: ${readingWords(event.reading)}`;
    case "kit-tagged-out":
      return `Tagged out: ${rig.parts.find(({ id }) => id === event.part)?.name ?? event.part}. ${event.why}`;
    case "noted":
      return `Note: ${event.text}`;
    case "corrected":
      return `Entry ${event.entry} was a mistake: ${event.why}`;
    case "handed-over":
      return "Phone handed over";
    case "interrupted":
      return `Interrupted: ${CAUSE[event.cause]} for ${Math.round(event.gap_ms / 1000)} s`;
    case "power-low":
      return `Battery at ${event.percent} %`;
    case "refused":
      return `Refused: ${event.event} (${event.missing.join(", ")})`;
    case "hold-cleared":
      return `Hold cleared by two: ${event.why}`;
    case "back-called":
      return `Back to ${BACK_NAME[event.to].toLowerCase()}: ${event.why}`;
    case "scrub-called":
      return `Scrubbed: ${event.why}`;
    case "clear-called":
      return "Swept and called clear";
    case "approach-called":
      return "One person approaches";
    case "discharge-agreed":
      return `The responsible person agreed to the pull: ${event.words}`;
    case "unresolved-declared":
      return `Pressure unresolved: ${event.why}`;
    case "unresolved-ended":
      return `Ended by the responsible person. Seen: ${event.evidence}. Done: ${event.done}`;
    case "hold-called":
    case "make-safe-called":
    case "staff-called":
      return event.why === "" ? REPORT[event.type] : `${REPORT[event.type]}: ${event.why}`;
    default:
      return event.type in REPORT ? REPORT[event.type as ReportType] : CALL[event.type as Gate].say;
  }
};
