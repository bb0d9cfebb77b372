import { findStep, type Procedure } from "../procedure/procedure.ts";
import type { Entry, LogEvent } from "../record/entry.ts";
import { isAboutTheRecord } from "../record/replay.ts";
import type { Rig } from "../rig/rig.ts";
import { advance, createSequence } from "../sequence/advance.ts";
import type { Snapshot } from "../sequence/context.ts";
import { isFinal, isHot, type StateId } from "../sequence/states.ts";
import { isReport, type ReportType } from "../sequence/vocabulary.ts";
import { type Finding, finding, type Weight } from "./finding.ts";
import { gap_s, paceFindings } from "./pace.ts";

/** One line of the raw log beside its meaning: which state it was said in, and which it led to. */
export type TimelineItem = {
  readonly entry: Entry;
  readonly from: StateId;
  readonly to: StateId;
  readonly accepted: boolean;
};

export type RunReview = {
  readonly timeline: readonly TimelineItem[];
  readonly findings: readonly Finding[];
  readonly ended: StateId;
  /** Everybody who held a role: none of them may review. */
  readonly crew: readonly string[];
};

const stepText = (procedure: Procedure, id: string): string => findStep(procedure, id)?.step.text ?? id;

/** Reports that are only bookkeeping; the others are worth a line each. */
const QUIET: readonly ReportType[] = [
  "handed-over",
  "refused",
  "hold-called",
  "restarted",
  "interrupted",
  "corrected",
  "make-safe-called",
];

/** Reports that no run should have. */
const GRAVE: readonly ReportType[] = [
  "air-seen-on",
  "restraint-seen-open",
  "bottle-moved",
  "nothing-happened",
  "line-crossed",
];

const ofReport = (item: TimelineItem): readonly Finding[] => {
  const { entry, from } = item;
  const { event, seq } = entry;
  if (isAboutTheRecord(event) || !isReport(event.type) || QUIET.includes(event.type)) return [];
  if (event.type === "released" && from === "zeroed") return [];
  if (event.type === "gauge-read" || event.type === "noted")
    return [
      finding(
        "reported",
        "note",
        [seq],
        event.type === "noted" ? `note: ${event.text}` : `gauge ${event.gauge} read`,
      ),
    ];
  const weight: Weight =
    GRAVE.includes(event.type) || (event.type === "released" && !isHot(from)) ? "red" : "amber";
  const named = "restraint" in event ? ` (${event.restraint})` : "";
  const why = "why" in event ? event.why : "";
  return [
    finding(
      "reported",
      weight,
      [seq],
      `${event.type.replaceAll("-", " ")}${named}, while ${from.replace("-", " ")}`,
      why,
    ),
  ];
};

const ofAct = (procedure: Procedure, item: TimelineItem): readonly Finding[] => {
  const { event, seq } = item.entry;
  switch (event.type) {
    case "step-skipped":
      return [
        finding(
          "skipped",
          "amber",
          [seq],
          `skipped: “${stepText(procedure, event.step)}”`,
          `${event.reason.replaceAll("-", " ")}: ${event.words} (agreed by ${event.agreedBy})`,
        ),
      ];
    case "refused":
      return [
        finding(
          "refused",
          "note",
          [seq],
          `${event.event.replaceAll("-", " ")} refused`,
          event.missing.join(", "),
        ),
      ];
    case "restraint-answered":
      if (event.answer === "home") return [];
      return event.round === 1
        ? [
            finding(
              "catch",
              "note",
              [seq],
              `${event.restraint} found “${event.answer}” at the first look`,
              "A catch: put right and looked at again.",
            ),
          ]
        : [
            finding(
              "mismatch",
              "red",
              [seq],
              `${event.restraint} found “${event.answer}” at the second look`,
              "The first look had said fully home.",
            ),
          ];
    case "restarted":
      return [
        finding(
          "restarted",
          isHot(item.from) ? "red" : "amber",
          [seq],
          `app restarted while ${item.from.replace("-", " ")}`,
        ),
      ];
    case "interrupted":
      return [
        finding(
          "interrupted",
          "note",
          [seq],
          `interrupted (${event.cause}) while ${item.from.replace("-", " ")}`,
        ),
      ];
    case "corrected":
      return [finding("corrected", "note", [event.entry, seq], `entry ${event.entry} corrected`, event.why)];
    case "make-safe-called":
      return [
        finding(
          "reported",
          "amber",
          [seq],
          `make safe called, while ${item.from.replace("-", " ")}`,
          event.why,
        ),
      ];
    default:
      return ofReport(item);
  }
};

/** A step that was done again: which times, so that an officer sees what was put right. */
const redone = (procedure: Procedure, entries: readonly Entry[]): readonly Finding[] =>
  [...groupSteps(entries)].flatMap(([id, seqs]) =>
    seqs.length > 1
      ? [finding("redone", "note", seqs, `done ${seqs.length} times: “${stepText(procedure, id)}”`)]
      : [],
  );

const groupSteps = (entries: readonly Entry[]): ReadonlyMap<string, readonly number[]> => {
  const found = new Map<string, number[]>();
  for (const { event, seq } of entries)
    if (event.type === "step-done") found.set(event.step, [...(found.get(event.step) ?? []), seq]);
  return found;
};

const sayer = (event: LogEvent): string =>
  "why" in event && event.why !== "" ? event.why : "no reason given";

/** Holds with who, why, how long, and whether they were cleared faster than a reason can be given. */
const holds = (timeline: readonly TimelineItem[], snapshots: readonly Snapshot[]): readonly Finding[] =>
  timeline.flatMap(({ entry }, i) => {
    const hold = snapshots[i]?.context.hold;
    const before = snapshots[i - 1]?.context.hold;
    if (!hold || hold.seq !== entry.seq || hold === before) return [];
    const cleared = timeline
      .slice(i + 1)
      .find((item) => item.accepted && item.entry.event.type === "hold-cleared");
    const held_s = cleared && gap_s(entry, cleared.entry);
    const seqs = cleared ? [entry.seq, cleared.entry.seq] : [entry.seq];
    const length = held_s === undefined ? "" : `, ${held_s.toFixed(0)} s`;
    const hasty = held_s !== undefined && held_s < 5;
    const end = cleared ? `cleared: ${sayer(cleared.entry.event)}` : "never cleared";
    const words = `hold (${hold.kind}) by ${hold.by}: ${hold.why.replaceAll("-", " ")}${length}`;
    return [
      finding("held", hasty ? "amber" : "note", seqs, words, hasty ? `${end}; cleared in under 5 s` : end),
    ];
  });

const endings = (timeline: readonly TimelineItem[], last: Snapshot): readonly Finding[] => {
  const { release } = last.context;
  const seq = timeline.at(-1)?.entry.seq ?? 0;
  const late =
    release && (!release.called || !release.onTime)
      ? [
          finding(
            "late",
            release.called ? "amber" : "red",
            [release.seq],
            release.called ? "released outside the zero's window" : "released without a call",
          ),
        ]
      : [];
  if (isFinal(last.state)) return late;
  return [
    ...late,
    finding(
      "unfinished",
      isHot(last.state) ? "red" : "amber",
      [seq],
      `the log ends while ${last.state.replace("-", " ")}`,
    ),
  ];
};

const WEIGHTS: readonly Weight[] = ["red", "amber", "note"];

/** A role that was given by a slip, before anything was done, was never held. */
const crewOf = ({ context }: Snapshot): readonly string[] =>
  Object.entries(context.held).flatMap(([person, roles]) => (roles.length > 0 ? [person] : []));

/**
 * Reads one run's log as a safety officer would: every skip, refusal, hurried answer, catch,
 * mismatch, hold, report, restart and late release, each with the entries that show it.
 * @param entries  verified, in order; an entry that would be refused is shown as not accepted
 * @returns findings by weight, then by entry; the timeline holds every entry
 */
export const reviewRun = (rig: Rig, procedure: Procedure, entries: readonly Entry[]): RunReview => {
  const sequence = createSequence(rig, procedure);
  const timeline: TimelineItem[] = [];
  const snapshots: Snapshot[] = [];
  let snapshot = sequence.initial;
  for (const entry of entries) {
    const { event, seq, at, mono, session, by } = entry;
    const folded = isAboutTheRecord(event)
      ? undefined
      : advance(sequence, snapshot, { seq, at, mono, session, by, event });
    const next = folded?.ok ? folded.value : snapshot;
    timeline.push({ entry, from: snapshot.state, to: next.state, accepted: folded?.ok ?? true });
    snapshots.push(next);
    snapshot = next;
  }
  const deviations = procedure.deviations.map(({ rule, where, why, acceptedBy, until }) =>
    finding(
      "deviation",
      "amber",
      [],
      `deviation from ${rule} at ${where}`,
      `${why} (accepted by ${acceptedBy} until ${until})`,
    ),
  );
  const findings = [
    ...timeline.flatMap((item) => ofAct(procedure, item)),
    ...holds(timeline, snapshots),
    ...paceFindings(procedure, entries),
    ...redone(procedure, entries),
    ...endings(timeline, snapshot),
    ...deviations,
  ].sort(
    (a, b) => WEIGHTS.indexOf(a.weight) - WEIGHTS.indexOf(b.weight) || (a.seqs[0] ?? -1) - (b.seqs[0] ?? -1),
  );
  return { timeline, findings, ended: snapshot.state, crew: crewOf(snapshot) };
};
