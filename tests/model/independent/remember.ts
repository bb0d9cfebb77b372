import type { Act, SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { COLD, EVIDENCE, isOver, LIVE } from "./evidence.ts";
import { type Documents, type HoldNoted, type Memory, type Moment, momentOf } from "./memory.ts";
import { inAgreement, openSteps } from "./permissions.ts";
import {
  answeredWell,
  behindSupply,
  gaugeSaid,
  pressureShown,
  stepCalled,
  stepsIn,
  withinLimits,
} from "./reading.ts";
import { isFindingReport } from "./reports.ts";

/** How an accepted act adds to the memory; `next` is the state that it leads to. */

const whoSaid = (act: Act): string => {
  const { event } = act;
  if ("seenBy" in event) return event.seenBy;
  return "person" in event ? event.person : act.by;
};

const evidenceGiven = (docs: Documents, state: string, event: SequenceEvent): readonly string[] => {
  switch (event.type) {
    case "step-done": {
      const step = stepCalled(docs, event.step);
      if (!step || !answeredWell(docs, step, event)) return [];
      return step.proves.filter((id) => EVIDENCE[id]?.stages.includes(state));
    }
    case "restraint-answered":
      if (event.answer !== "home") return [];
      return [`${event.round === 1 ? "first-look" : "second-look"}:${event.restraint}`];
    case "clear-called":
      return ["clear"];
    case "air-called":
      return ["proof-at-air"];
    case "discharge-agreed":
      return ["discharge-word"];
    case "unresolved-ended":
      return ["emptied-by-word"];
    default:
      return [];
  }
};

/** Happenings are kept under the names by which the table of evidence knows them. */
const happenings = (docs: Documents, act: Act): readonly string[] => {
  const { event } = act;
  if (pressureShown(docs, gaugeSaid(docs, act))) return ["pressure-shown", event.type];
  if (event.type === "restraint-seen-open") return [`seen-open:${event.restraint}`, "seen-open-any"];
  if (event.type === "restraint-answered" && event.answer !== "home")
    return [`not-home:${event.restraint}`, event.type];
  // A restart spoils each first look, whichever restraint it was of.
  return [event.type];
};

const isFinding = (docs: Documents, memory: Memory, after: Memory["charging_Pa"], act: Act): boolean => {
  const { event } = act;
  const { state } = memory;
  if (after !== memory.charging_Pa && !inAgreement(docs, after)) return true;
  if (event.type === "restraint-answered") return event.round === 2 && event.answer !== "home";
  if (event.type === "step-done") {
    const step = stepCalled(docs, event.step);
    if (!step || answeredWell(docs, step, event)) return false;
    return (
      step.hold !== undefined || (LIVE.includes(state) && step.proves.length > 0 && step.form.kind === "look")
    );
  }
  return isFindingReport(state, event.type);
};

const holdsAfter = (
  docs: Documents,
  memory: Memory,
  charging_Pa: Memory["charging_Pa"],
  act: Act,
): readonly HoldNoted[] => {
  const { holds, state } = memory;
  const { event, by } = act;
  if (event.type === "hold-cleared") return holds.slice(1);
  if (isOver(state)) return holds;
  if (isFinding(docs, memory, charging_Pa, act))
    return holds[0]?.kind === "finding" ? holds : [{ kind: "finding", by }, ...holds];
  if (event.type === "hold-called") {
    const called = holds.some((hold) => hold.kind === "called" && hold.by === by);
    return called ? holds : [...holds, { kind: "called", by }];
  }
  if (holds.length > 0) return holds;
  const cold = COLD.includes(state);
  if (event.type === "restarted" && cold) return [{ kind: "automatic", by }];
  if (event.type !== "interrupted") return holds;
  const atHand = openSteps(docs, memory)[0];
  const stops = LIVE.includes(state) || (cold && atHand !== undefined && atHand.proves.length > 0);
  return stops ? [{ kind: "automatic", by }] : holds;
};

const chargingAfter = (docs: Documents, memory: Memory, act: Act): Memory["charging_Pa"] => {
  const said = memory.state === "charging" ? gaugeSaid(docs, act) : undefined;
  if (said?.value_Pa === undefined || !behindSupply(docs, said.gauge)) return memory.charging_Pa;
  return { ...memory.charging_Pa, [said.gauge]: said.value_Pa };
};

const amissAfter = (docs: Documents, memory: Memory, act: Act): readonly string[] => {
  const { event } = act;
  const judged = (instrument: string, inside: boolean): readonly string[] =>
    inside
      ? memory.amiss.filter((other) => other !== instrument)
      : [...new Set([...memory.amiss, instrument])];
  if (event.type === "step-done") {
    const step = stepCalled(docs, event.step);
    return step?.form.kind === "measure"
      ? judged(step.form.instrument, answeredWell(docs, step, event))
      : memory.amiss;
  }
  const said = gaugeSaid(docs, act);
  return said ? judged(said.gauge, withinLimits(docs, memory.state, said)) : memory.amiss;
};

/** A cold stage that begins again has its own instruments read again, and those of the stages up to the air. */
const stillAmiss = (docs: Documents, next: string, amiss: readonly string[]): readonly string[] => {
  const ahead = COLD.includes(next) ? COLD.slice(COLD.indexOf(next)) : [];
  const read = ahead
    .flatMap((stage) => stepsIn(docs, stage))
    .flatMap(({ form }) => (form.kind === "measure" ? [form.instrument] : []));
  return amiss.filter((instrument) => !read.includes(instrument));
};

type People = Pick<Memory, "roles" | "hats" | "phone">;

const peopleAfter = (memory: Memory, event: SequenceEvent): People => {
  const { roles, hats, phone } = memory;
  if (event.type === "handed-over") return { roles, hats, phone: event.to };
  if (event.type !== "signed-on") return { roles, hats, phone };
  const before = roles[event.role];
  const worn = { ...hats };
  // A role that passes on before anything was done was a slip.
  if (before !== undefined && before !== event.person && !memory.started)
    worn[before] = (worn[before] ?? []).filter((hat) => hat !== event.role);
  worn[event.person] = [...new Set([...(worn[event.person] ?? []), event.role])];
  const taken = event.role === "conductor" ? event.person : undefined;
  return { roles: { ...roles, [event.role]: event.person }, hats: worn, phone: phone ?? taken };
};

const stepsAfter = (docs: Documents, memory: Memory, act: Act, moment: Moment): Memory["steps"] => {
  const { event } = act;
  if (event.type === "step-skipped") return { ...memory.steps, [event.step]: { ...moment, skipped: true } };
  if (event.type === "step-done") {
    const step = stepCalled(docs, event.step);
    if (!step || !answeredWell(docs, step, event)) return memory.steps;
    return { ...memory.steps, [event.step]: { ...moment, skipped: false } };
  }
  if (event.type !== "corrected") return memory.steps;
  return Object.fromEntries(Object.entries(memory.steps).filter(([, { seq }]) => seq !== event.entry));
};

/** A release that was seen with the run live, as long as nothing since has made it doubtful. */
const seenReleaseAfter = (memory: Memory, act: Act, next: string, moment: Moment): Moment | undefined => {
  const { event } = act;
  if (event.type === "released") return LIVE.includes(memory.state) ? moment : undefined;
  const doubtful = [
    "nothing-happened",
    "discharge-called",
    "make-safe-called",
    "air-seen-on",
    "restarted",
    "unresolved-declared",
  ];
  if (doubtful.includes(event.type)) return undefined;
  if (next === "making-safe" && memory.state !== next) return undefined;
  if (next === "charging" && memory.state === "clearing") return undefined;
  if (event.type === "corrected" && event.entry === memory.seenRelease?.seq) return undefined;
  return memory.seenRelease;
};

/** A window is kept only where both clocks agree that it was, on a page that saw all of it. */
const windowAfter = (
  { rig }: Documents,
  memory: Memory,
  act: Act,
  builds: boolean,
): Pick<Memory, "onTime" | "onTimeSeq"> => {
  const { event } = act;
  if (builds || (event.type === "corrected" && event.entry === memory.onTimeSeq))
    return { onTime: undefined, onTimeSeq: undefined };
  if (event.type !== "released") return { onTime: memory.onTime, onTimeSeq: memory.onTimeSeq };
  const zero = memory.zeroAt;
  const wall_ms = zero ? act.at - zero.at : -1;
  const mono_ms = zero ? (act.mono - zero.mono) / 10 : -1;
  const known = zero?.session === act.session && wall_ms >= 0 && mono_ms >= 0;
  const kept = mono_ms <= rig.limits.zeroToRelease_s * 1000 && Math.abs(wall_ms - mono_ms) <= 250;
  return { onTime: known && kept, onTimeSeq: act.seq };
};

export const remember = (docs: Documents, memory: Memory, act: Act, next: string): Memory => {
  const { event } = act;
  const moment = momentOf(memory, act, whoSaid(act));
  const moved = next !== memory.state;
  const builds = event.type === "air-called" && memory.state === "clearing";
  const pulled = LIVE.includes(memory.state)
    ? event.type === "released" || event.type === "nothing-happened"
    : event.type === "discharge-called";
  const given = evidenceGiven(docs, memory.state, event);
  const charging_Pa = chargingAfter(docs, memory, act);
  const after: Memory = {
    ...memory,
    order: moment.order,
    given: given.length > 0 ? { ...memory.given, ...named(given, moment) } : memory.given,
    happened: { ...memory.happened, ...named(happenings(docs, act), moment) },
    withdrawn: event.type === "corrected" ? withdrawnAfter(memory, event.entry) : memory.withdrawn,
    steps: stepsAfter(docs, memory, act, moment),
    started: memory.started || ["step-done", "step-skipped", "restraint-answered"].includes(event.type),
    ...peopleAfter(memory, event),
    holds: holdsAfter(docs, memory, charging_Pa, act),
    amiss: moved ? stillAmiss(docs, next, amissAfter(docs, memory, act)) : amissAfter(docs, memory, act),
    charging_Pa: moved ? {} : charging_Pa,
    zeros: builds ? 0 : memory.zeros + (event.type === "release-called" ? 1 : 0),
    pulls: builds ? 0 : memory.pulls + (pulled ? 1 : 0),
    airSince: builds ? moment : memory.airSince,
    zeroAt: event.type === "release-called" ? moment : next === "zeroed" ? memory.zeroAt : undefined,
    waitFrom:
      next === "waiting" ? (moved || event.type === "clock-jumped" ? moment : memory.waitFrom) : undefined,
    seenRelease: seenReleaseAfter(memory, act, next, moment),
    ...windowAfter(docs, memory, act, builds),
    state: next,
    entered: moved ? { ...memory.entered, [next]: moment } : memory.entered,
  };
  const fresh = moved ? withoutStepsOf(docs, after, next) : after;
  return { ...fresh, stepFrom: stepFromAfter(docs, memory, fresh, act, moment) };
};

const named = (names: readonly string[], moment: Moment): { [name: string]: Moment } =>
  Object.fromEntries(names.map((name) => [name, moment]));

const withdrawnAfter = (memory: Memory, entry: number): Memory["withdrawn"] => {
  const named = Object.entries(memory.given).filter(([, { seq }]) => seq === entry);
  return { ...memory.withdrawn, ...Object.fromEntries(named.map(([key, { order }]) => [key, order])) };
};

/** A stage that is entered starts anew. */
const withoutStepsOf = (docs: Documents, memory: Memory, state: string): Memory => {
  const own =
    (docs.procedure.phases as { [phase: string]: readonly { id: string }[] | undefined })[state] ?? [];
  const others = Object.entries(memory.steps).filter(([id]) => !own.some((step) => step.id === id));
  return { ...memory, steps: Object.fromEntries(others) };
};

const stepFromAfter = (
  docs: Documents,
  before: Memory,
  after: Memory,
  act: Act,
  moment: Moment,
): Moment | undefined => {
  const same =
    before.state === after.state &&
    before.stepFrom !== undefined &&
    openSteps(docs, before)[0]?.id === openSteps(docs, after)[0]?.id;
  const clocksBroken = act.event.type === "restarted" || act.event.type === "clock-jumped";
  return same && !clocksBroken ? before.stepFrom : moment;
};
