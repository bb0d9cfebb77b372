import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { COLD, EVIDENCE, holding, keysOf } from "./independent/evidence.ts";
import type { Documents, Memory } from "./independent/memory.ts";
import { openSteps, wait_s } from "./independent/permissions.ts";
import type { Luck } from "./luck.ts";
import { answers, type Crew, type Move } from "./moves.ts";

/** What a willing crew would say next, as the independent model sees it; and how long that takes. */
export type Onward = Move & { readonly after_s: number };

const CALL: { readonly [state: string]: SequenceEvent["type"] } = {
  preparing: "fill-called",
  filling: "seal-called",
  sealing: "mount-called",
  mounting: "restrain-called",
  restraining: "line-called",
  clearing: "air-called",
  charging: "pressure-called",
  charged: "arm-called",
  armed: "release-called",
  "making-safe": "wait-called",
  approaching: "close-called",
};

const nextLook = (docs: Documents, memory: Memory, crew: Crew, round: 1 | 2, luck: Luck): Move => {
  const id = round === 1 ? "first-look" : "second-look";
  const open = keysOf(docs, id).filter((key) => !holding(docs, memory, key));
  const [key = ""] = round === 1 ? open : open.toReversed();
  const seenBy = round === 1 ? crew.installer : crew.verifier;
  if (round === 2 && memory.phone !== crew.verifier)
    return { event: { type: "handed-over", to: crew.verifier }, by: crew.conductor };
  const answer = luck.chance(0.97) ? "home" : luck.pick(["part", "open", "unseen"] as const);
  return {
    event: { type: "restraint-answered", restraint: key.split(":")[1] ?? "", round, answer, seenBy },
    by: round === 1 ? crew.conductor : crew.verifier,
  };
};

/** Everything said after the zero is a report: mostly that it went. */
const afterZero = (luck: Luck): SequenceEvent => {
  const chance = luck.next();
  if (chance < 0.5) return { type: "released" };
  if (chance < 0.8) return { type: "nothing-happened" };
  return chance < 0.95 ? { type: "window-passed" } : { type: "make-safe-called", why: "" };
};

/** A pull to empty the bottle, where one is allowed, before its opening is looked at. */
const discharge = (docs: Documents, memory: Memory, crew: Crew, luck: Luck): SequenceEvent | undefined => {
  if (memory.pulls >= docs.rig.limits.pulls || memory.seenRelease || !luck.chance(0.3)) return undefined;
  if (memory.holds.length > 0 || !holding(docs, memory, "supply-isolated")) return undefined;
  if (!holding(docs, memory, "clear")) return { type: "clear-called", seenBy: crew.conductor };
  if (!holding(docs, memory, "proof-at-air") && !holding(docs, memory, "discharge-word"))
    return { type: "discharge-agreed", person: docs.rig.responsible[0] ?? "", words: "go" };
  return { type: "discharge-called" };
};

export const onward = (docs: Documents, memory: Memory, crew: Crew, luck: Luck): Onward => {
  const by = crew.conductor;
  const soon = (event: SequenceEvent, after_s = 2): Onward => ({ event, by, after_s });
  for (const [role, person] of Object.entries(crew))
    if (memory.roles[role] !== person) return soon({ type: "signed-on", person, role: role as keyof Crew });
  const { state } = memory;
  const [hold] = memory.holds;
  if (hold && state !== "unknown" && luck.chance(0.7)) {
    const other = hold.by !== by && Object.values(crew).includes(hold.by) ? hold.by : crew.installer;
    return soon({ type: "hold-cleared", with: other, why: "put right" });
  }
  switch (state) {
    case "zeroed":
      return soon(afterZero(luck), luck.chance(0.8) ? 1 : 8);
    case "unknown":
      return soon({ type: "make-safe-called", why: "a restart" });
    case "unresolved":
      return soon({
        type: "unresolved-ended",
        person: docs.rig.responsible[0] ?? "",
        evidence: "slide off",
        done: "vented",
      });
    case "waiting":
      return soon({ type: "approach-called", person: crew.installer }, wait_s(docs, memory) + 1);
  }
  const pull = state === "making-safe" ? discharge(docs, memory, crew, luck) : undefined;
  if (pull) return soon(pull);
  const [step] = openSteps(docs, memory);
  if (step) {
    const { form } = step;
    if (form.kind === "each-restraint")
      return { ...nextLook(docs, memory, crew, form.round, luck), after_s: 3 };
    const [good] = answers(step, crew[step.role]);
    return soon(good as SequenceEvent, form.kind === "wait" ? form.seconds + 1 : 2);
  }
  if (state === "making-safe" && luck.chance(0.06))
    return soon({ type: "unresolved-declared", why: "jammed" });
  const outside = memory.amiss.find((gauge) => docs.rig.gauges.some(({ id }) => id === gauge));
  if (outside !== undefined && luck.chance(0.5)) return soon(inside(docs, state, outside));
  return soon({ type: CALL[state] ?? "noted", text: "" } as SequenceEvent);
};

/** What to do where the way on is shut: go back to the stage that proves what is missing, or make safe. */
export const wayRound = (memory: Memory, codes: readonly string[]): SequenceEvent => {
  const { state } = memory;
  if (!COLD.includes(state)) return { type: "make-safe-called", why: "no way on" };
  const stages = codes.flatMap((code) => EVIDENCE[code.split(":")[0] ?? ""]?.stages ?? []);
  const earliest = COLD.find((stage) => stages.includes(stage));
  const to = earliest ?? COLD[Math.max(0, COLD.indexOf(state) - 1)];
  return { type: "back-called", to, why: "not proved" } as SequenceEvent;
};

/** The gauge is read again, and shows what it should. */
const inside = ({ rig }: Documents, state: string, gauge: string): SequenceEvent => {
  const hot = ["charging", "charged", "armed", "zeroed"].includes(state);
  const value_Pa =
    gauge === rig.supply.gauge ? rig.supply.workingMin_Pa * 1.1 : hot ? rig.pressure.set_Pa : 0;
  const typed = (value_Pa / 1e5).toFixed(3);
  return { type: "gauge-read", gauge, reading: { kind: "single", typed, unit: "bar", instrument: gauge } };
};
