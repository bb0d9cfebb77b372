import type { Act } from "../../../core/sequence/vocabulary.ts";
import { allHold, EVIDENCE, holding, isHot, keysOf } from "./evidence.ts";
import { atLeast_s, atMost_s, type Documents, type Memory } from "./memory.ts";
import { hasAnswer, stepCalled, stepsIn } from "./reading.ts";

/** What the model wants before each call: evidence, with the rig's limit on its age where there is one. */
const WANTED: { readonly [call: string]: readonly string[] } = {
  "fill-called": [
    "phone-ready",
    "card-on-site",
    "line-set-out",
    "bottle-fit",
    "gauges-at-zero",
    "comms-checked",
  ],
  "seal-called": ["water-measured"],
  "mount-called": ["release-runs-free", "leak-checked"],
  "restrain-called": ["lines-clear", "mounted"],
  "line-called": ["first-look", "pull-tested", "second-look"],
  "air-called": [
    "line-set-out",
    "bottle-fit",
    "water-measured",
    "release-runs-free",
    "leak-checked",
    "lines-clear",
    "mounted",
    "first-look",
    "pull-tested",
    "second-look",
    "supply-in-band",
    "regulator-set",
    "glasses-on",
    "clear",
  ],
  "pressure-called": ["at-pressure"],
  "arm-called": ["comms-checked", "at-pressure", "supply-isolated", "post-left", "restraints-in-view"],
  "release-called": [
    "first-look",
    "pull-tested",
    "second-look",
    "clear",
    "at-pressure",
    "supply-isolated",
    "post-left",
    "restraints-in-view",
    "cord-in-hand",
    "indoors-ready",
    "words-repeated",
  ],
  "discharge-called": ["clear", "supply-isolated", "proof-at-air"],
  "wait-called": ["supply-isolated", "line-at-zero", "bottle-at-zero", "opening-silent"],
  "approach-called": ["line-at-zero", "bottle-at-zero", "opening-silent"],
  "close-called": [],
};

const INSTEAD: { readonly [evidence: string]: string } = {
  "proof-at-air": "discharge-word",
  "line-at-zero": "emptied-by-word",
  "bottle-at-zero": "emptied-by-word",
  "opening-silent": "emptied-by-word",
};

/** From where each call is made, and where it leads; the same name twice: it stays. */
export const CALLS: { readonly [call: string]: readonly (readonly [string, string])[] } = {
  "fill-called": [["preparing", "filling"]],
  "seal-called": [["filling", "sealing"]],
  "mount-called": [["sealing", "mounting"]],
  "restrain-called": [["mounting", "restraining"]],
  "line-called": [["restraining", "clearing"]],
  "air-called": [["clearing", "charging"]],
  "pressure-called": [["charging", "charged"]],
  "arm-called": [["charged", "armed"]],
  "release-called": [["armed", "zeroed"]],
  "discharge-called": [["making-safe", "making-safe"]],
  "discharge-agreed": [["making-safe", "making-safe"]],
  "wait-called": [["making-safe", "waiting"]],
  "approach-called": [["waiting", "approaching"]],
  "close-called": [["approaching", "closed"]],
  "unresolved-declared": [
    ["making-safe", "unresolved"],
    ["waiting", "unresolved"],
  ],
  "unresolved-ended": [["unresolved", "waiting"]],
};

const ONWARD = [
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
const TO_THE_STAND = ["wait-called", "approach-called", "close-called"];

const onCrew = (memory: Memory, person: string): boolean => Object.values(memory.roles).includes(person);

const maxAge_s = ({ rig }: Documents, call: string): number => {
  if (call === "release-called") return rig.limits.clearBeforeZero_s;
  return rig.limits.clearBeforeAir_s;
};

const wanting = (docs: Documents, memory: Memory, act: Act): readonly string[] =>
  (WANTED[act.event.type] ?? []).flatMap((id) => {
    const path = EVIDENCE[id]?.path;
    if (path !== undefined && path !== docs.rig.emptying.kind) return [];
    const instead = INSTEAD[id];
    if (instead !== undefined && holding(docs, memory, instead)) return [];
    return keysOf(docs, id).filter((key) => {
      const given = holding(docs, memory, key);
      return !given || (id === "clear" && atMost_s(given, act) > maxAge_s(docs, act.event.type));
    });
  });

export const openSteps = (docs: Documents, memory: Memory) =>
  stepsIn(docs, memory.state).filter((step) => {
    const done = memory.steps[step.id];
    if (done?.skipped) return false;
    if (!done && step.form.kind !== "each-restraint") return true;
    return !step.proves.every((id) => allHold(docs, memory, id));
  });

export const bad = (act: Act): boolean =>
  act.event.type === "restraint-answered" && act.event.answer !== "home";

const conflict = (a: string, b: string): boolean => {
  if (a === b) return false;
  if (a === "caller" || b === "caller") return true;
  const pair = [a, b].sort().join("+");
  return pair === "installer+verifier" || pair === "conductor+verifier" || pair === "conductor+releaser";
};

/** The wait that is asked for: the long one unless a release was seen and nothing has cast doubt on it. */
export const wait_s = ({ rig }: Documents, memory: Memory): number =>
  memory.seenRelease ? rig.limits.waitAfterRelease_s : rig.limits.waitAfterDoubt_s;

export const inAgreement = ({ rig }: Documents, read_Pa: Memory["charging_Pa"]): boolean => {
  const sorted = Object.values(read_Pa).sort((a, b) => a - b);
  const [least = 0] = sorted;
  return (sorted.at(-1) ?? 0) - least <= rig.limits.gaugesAgree_Pa;
};

/** The rules of the sequence that an act offends, by the names that the crew is told. */
const offended = (docs: Documents, memory: Memory, act: Act): readonly string[] => {
  const { event } = act;
  const { rig } = docs;
  const out: string[] = [];
  const unless = (fine: boolean, name: string): void => void (fine || out.push(name));
  const open = openSteps(docs, memory);
  const conductor = memory.roles["conductor"];
  const making = memory.state === "making-safe";
  const type = event.type;

  if (ONWARD.includes(type) || TO_THE_STAND.includes(type) || type === "discharge-called") {
    unless(memory.holds.length === 0, "no-hold");
    unless(conductor === act.by, "conductor-calls");
  }
  if (ONWARD.includes(type) || type === "wait-called" || type === "close-called")
    unless(open.length === 0, "steps-done");
  if (ONWARD.includes(type)) unless(memory.amiss.length === 0, "readings-inside");

  switch (event.type) {
    case "fill-called":
      unless(
        ["conductor", "installer", "verifier", "releaser", "caller"].every((role) => memory.roles[role]),
        "crew-complete",
      );
      unless(rig.service.in, "rig-in-service");
      break;
    case "pressure-called": {
      unless(inAgreement(docs, memory.charging_Pa), "gauges-agree");
      break;
    }
    case "arm-called":
    case "release-called": {
      const since = memory.airSince;
      unless(since !== undefined && atMost_s(since, act) <= rig.limits.timeAtPressure_s, "time-at-pressure");
      if (event.type === "release-called") unless(memory.zeros < rig.limits.zeros, "zeros-left");
      break;
    }
    case "discharge-called":
      unless(memory.pulls < rig.limits.pulls, "pulls-left");
      break;
    case "approach-called":
      unless(
        memory.waitFrom !== undefined && atLeast_s(memory.waitFrom, act) >= wait_s(docs, memory),
        "wait-over",
      );
      unless(onCrew(memory, event.person), "one-approaches");
      break;
    case "signed-on":
      unless(!(memory.hats[event.person] ?? []).some((hat) => conflict(hat, event.role)), "role-free");
      break;
    case "clear-called":
      unless(memory.holds.length === 0 || making, "no-hold");
      unless(onCrew(memory, event.seenBy), "crew-said-clear");
      break;
    case "step-done": {
      const step = stepCalled(docs, event.step);
      unless(memory.holds.length === 0 || making, "no-hold");
      unless(open[0]?.id === event.step, "step-at-hand");
      unless(step !== undefined && memory.roles[step.role] === event.seenBy, "right-role");
      const form = step?.form;
      unless(hasAnswer(form, event), "answer-complete");
      if (form?.kind === "wait")
        unless(
          memory.stepFrom !== undefined && atLeast_s(memory.stepFrom, act) >= form.seconds,
          "waited-out",
        );
      const first = (step?.proves ?? []).flatMap((id) =>
        id === "pull-tested"
          ? ["first-look"]
          : id === "second-look"
            ? ["pull-tested"]
            : ["line-at-zero", "bottle-at-zero", "opening-silent"].includes(id)
              ? ["supply-isolated"]
              : [],
      );
      unless(
        first.every((id) => allHold(docs, memory, id)),
        "proved-before",
      );
      break;
    }
    case "step-skipped": {
      const step = stepCalled(docs, event.step);
      unless(memory.holds.length === 0, "no-hold");
      unless(open[0]?.id === event.step, "step-at-hand");
      const outside = step?.form.kind === "measure" && memory.amiss.includes(step.form.instrument);
      unless(step?.skippable === true && step.proves.length === 0 && !outside, "may-be-skipped");
      unless(
        event.agreedBy !== act.by && onCrew(memory, event.agreedBy) && event.words.trim() !== "",
        "second-nod",
      );
      break;
    }
    case "restraint-answered": {
      unless(
        rig.restraints.some(({ id }) => id === event.restraint),
        "restraint-known",
      );
      if (bad(act)) break;
      unless(memory.holds.length === 0, "no-hold");
      unless(memory.roles[event.round === 1 ? "installer" : "verifier"] === event.seenBy, "right-role");
      if (event.round === 1) break;
      unless(allHold(docs, memory, "pull-tested"), "proved-before");
      unless(holding(docs, memory, `first-look:${event.restraint}`)?.person !== event.seenBy, "other-person");
      unless(memory.phone === event.seenBy && act.by === event.seenBy, "verifier-holds-phone");
      break;
    }
    case "hold-cleared": {
      const [hold] = memory.holds;
      unless(hold !== undefined, "on-hold");
      const pair = [act.by, event.with];
      const isResponsible = (person: string): boolean => rig.responsible.includes(person);
      const callerAgrees =
        hold === undefined ||
        pair.includes(hold.by) ||
        !onCrew(memory, hold.by) ||
        pair.some((person) => isResponsible(person));
      unless(
        act.by !== event.with &&
          pair.every((person) => onCrew(memory, person) || isResponsible(person)) &&
          conductor !== undefined &&
          pair.includes(conductor) &&
          callerAgrees &&
          event.why.trim() !== "",
        "two-clear",
      );
      break;
    }
    case "discharge-agreed":
      unless(rig.responsible.includes(event.person) && event.words.trim() !== "", "responsible-person");
      break;
    case "unresolved-ended":
      unless(
        rig.responsible.includes(event.person) && event.evidence.trim() !== "" && event.done.trim() !== "",
        "responsible-person",
      );
      break;
    default:
  }
  return out;
};

/** All that keeps a permission from being given, by code; the place in the sequence apart. */
export const refusals = (docs: Documents, memory: Memory, act: Act): readonly string[] => [
  ...offended(docs, memory, act),
  ...wanting(docs, memory, act),
];

const WITH_STEPS = [
  "preparing",
  "filling",
  "sealing",
  "mounting",
  "restraining",
  "clearing",
  "charging",
  "charged",
  "armed",
  "making-safe",
  "approaching",
];
const ORDER = ["preparing", "filling", "sealing", "mounting", "restraining", "clearing"];

/** Where a permission leads from here once it is given; undefined where it cannot be called at all. */
export const leadsTo = (memory: Memory, act: Act): string | undefined => {
  const { state } = memory;
  const { event } = act;
  const over = state === "closed" || state === "scrubbed";
  switch (event.type) {
    case "signed-on":
      return over ? undefined : state;
    case "hold-cleared":
      return over || state === "zeroed" ? undefined : state;
    case "step-done":
      return WITH_STEPS.includes(state) ? state : undefined;
    case "step-skipped":
      return WITH_STEPS.includes(state) && !isHot(state) ? state : undefined;
    case "restraint-answered":
      return state === "restraining" ? state : undefined;
    case "clear-called":
      return ["clearing", "armed", "making-safe"].includes(state) ? state : undefined;
    case "scrub-called":
      return ORDER.includes(state) || state === "approaching" ? "scrubbed" : undefined;
    case "back-called": {
      const back = ORDER.indexOf(event.to);
      if (state === "approaching") return back === 0 || back === 1 ? event.to : undefined;
      return back >= 0 && back < ORDER.indexOf(state) ? event.to : undefined;
    }
    default:
      return CALLS[event.type]?.find(([from]) => from === state)?.[1];
  }
};
