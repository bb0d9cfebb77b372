import type { RunView as WholeView } from "../../app/session/live-run.ts";
import type { Step } from "../../core/procedure/procedure.ts";
import { stepAtHand } from "../../core/sequence/context.ts";
import { missing } from "../../core/sequence/missing.ts";
import { ROLES, type Role } from "../../core/sequence/roles.ts";
import { waitLeft_ms } from "../../core/sequence/rules.ts";
import { isCold, isLive } from "../../core/sequence/states.ts";
import type { BackTarget, PermissionType, SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import { goodReading } from "../app/demo/happy-path.ts";

/** All that a crew goes by. */
type RunView = Pick<WholeView, "rig" | "procedure" | "sequence" | "snapshot" | "entries">;

/** An act that a crew would make next, after this long. */
export type Move = { readonly event: SequenceEvent; readonly by: string; readonly after_ms: number };

export const CREW: { readonly [R in Role]: string } = {
  conductor: "C1",
  installer: "I1",
  verifier: "V1",
  releaser: "L1",
  caller: "N1",
};

const FORWARD: { readonly [state: string]: PermissionType } = {
  preparing: "fill-called",
  filling: "seal-called",
  sealing: "mount-called",
  mounting: "restrain-called",
  restraining: "line-called",
  clearing: "air-called",
  charging: "pressure-called",
  charged: "arm-called",
  armed: "release-called",
  approaching: "close-called",
};

const call = (event: SequenceEvent, after_ms = 1000): Move => ({ event, by: CREW.conductor, after_ms });

/** The next restraint of the round that has not been answered since it was last voided. */
const answer = (view: RunView, step: Step, round: 1 | 2): Move => {
  const { facts } = view.snapshot.context;
  const fact = round === 1 ? "first-look" : "second-look";
  const order = round === 1 ? view.rig.restraints : [...view.rig.restraints].reverse();
  const next = order.find(({ id }) => facts[`${fact}:${id}`] === undefined) ?? order[0];
  const seenBy = CREW[step.role];
  const event = {
    type: "restraint-answered",
    restraint: next?.id ?? "",
    round,
    answer: "home",
    seenBy,
  } as const;
  return { event, by: round === 1 ? CREW.conductor : seenBy, after_ms: 4000 };
};

const doStep = (view: RunView, step: Step): Move => {
  const { form } = step;
  if (form.kind === "each-restraint") return answer(view, step, form.round);
  const good = form.kind === "look" ? form.answers.find((one) => one.good)?.text : undefined;
  const reading = form.kind === "measure" ? goodReading(step) : undefined;
  const done = { type: "step-done", step: step.id, seenBy: CREW[step.role] } as const;
  const after_ms = form.kind === "wait" ? form.seconds * 1000 : 1000;
  return call({ ...done, ...(good && { answer: good }), ...(reading && { reading }) }, after_ms);
};

/** The facts and rules that would refuse this call now. */
const lacking = ({ sequence, snapshot }: RunView, event: SequenceEvent, now: Stamp): readonly string[] =>
  missing(sequence.doc, snapshot, { ...now, seq: snapshot.context.seq + 1, by: CREW.conductor, event }).map(
    ({ code }) => code.split(":")[0] ?? "",
  );

/** Making safe on a rig that is emptied by its release: pull until it went, then look, then wait. */
const makeSafe = (view: RunView, now: Stamp): Move => {
  const { sequence, snapshot, rig } = view;
  const { context } = snapshot;
  const step = stepAtHand(sequence.doc, snapshot);
  const mustPull = rig.emptying.kind === "release" && context.buildUps > 0 && context.release === undefined;
  if (!mustPull) return step ? doStep(view, step) : call({ type: "wait-called" });
  const sinceAir = view.entries.slice(view.entries.findLastIndex(({ event }) => event.type === "air-called"));
  if (sinceAir.some(({ event }) => event.type === "discharge-called")) return call({ type: "released" });
  const without = lacking(view, { type: "discharge-called" }, now);
  if (without.includes("pulls-left")) return call({ type: "unresolved-declared", why: "no pull is left" });
  if (without.includes("proof-at-air"))
    return call({ type: "discharge-agreed", person: rig.responsible[0] ?? "", words: "sectors widened" });
  if (without.includes("clear")) return call({ type: "clear-called", seenBy: CREW.installer });
  // The first steps of making safe shut the supply, which a pull needs too.
  return without.includes("supply-isolated") && step
    ? doStep(view, step)
    : call({ type: "discharge-called" });
};

const afterwards = (view: RunView, now: Stamp): Move | undefined => {
  const { snapshot, sequence } = view;
  switch (snapshot.state) {
    case "zeroed":
      return call({ type: "released" }, 2000);
    case "unknown":
      return call({ type: "make-safe-called", why: "not known" });
    case "making-safe":
      return makeSafe(view, now);
    case "unresolved":
      return call({
        type: "unresolved-ended",
        person: view.rig.responsible[0] ?? "",
        evidence: "opening silent, bottle soft",
        done: "vented by hand from behind the shield",
      });
    case "waiting":
      return call(
        { type: "approach-called", person: CREW.installer },
        waitLeft_ms(sequence.doc, snapshot.context, now) + 1000,
      );
    default:
      return undefined;
  }
};

const BACK: readonly BackTarget[] = ["preparing", "filling", "sealing", "mounting", "restraining"];

/** The call that leads on; where it would be refused, what the refusal asks for. */
const onward = (view: RunView, event: SequenceEvent, now: Stamp): Move => {
  const { sequence, snapshot } = view;
  const without = lacking(view, event, now);
  if (without.includes("clear")) return call({ type: "clear-called", seenBy: CREW.installer });
  const homes = sequence.doc.facts.filter(({ id }) => without.includes(id)).flatMap(({ home }) => home);
  const to = BACK.find((target) => homes.includes(target));
  if (isCold(snapshot.state) && to !== undefined) return call({ type: "back-called", to, why: "put right" });
  // Whatever else fell while charged (a post that was entered, an old reading) is put right from the start.
  if (isLive(snapshot.state) && without.length > 0)
    return call({ type: "make-safe-called", why: without.join(", ") });
  return call(event);
};

/**
 * What a crew that follows the screen does next; undefined once the run is over. It reads nothing
 * but the view, so that it finds its way again after any fault and any restart.
 */
export const nextMove = (view: RunView, now: Stamp): Move | undefined => {
  const { snapshot, sequence, rig } = view;
  const { context, state } = snapshot;
  if (state === "closed" || state === "scrubbed") return undefined;
  const open = ROLES.find((role) => context.crew[role] === undefined);
  if (open) return call({ type: "signed-on", person: CREW[open], role: open });
  if (context.hold && state !== "making-safe" && state !== "unknown" && state !== "zeroed") {
    const why = "seen to";
    return call({ type: "hold-cleared", with: rig.responsible[0] ?? "", why });
  }
  const special = afterwards(view, now);
  if (special) return withHold(view, special);
  const step = stepAtHand(sequence.doc, snapshot);
  const wanted =
    step?.form.kind === "each-restraint" && step.form.round === 2 ? CREW.verifier : CREW.conductor;
  if (context.holder !== wanted)
    return { event: { type: "handed-over", to: wanted }, by: context.holder ?? wanted, after_ms: 1000 };
  if (step) return doStep(view, step);
  return onward(view, { type: FORWARD[state] ?? "close-called" } as SequenceEvent, now);
};

/** Steps of making safe go on while a hold stands; its pulls and calls need the hold cleared. */
const withHold = (view: RunView, move: Move): Move => {
  const { hold } = view.snapshot.context;
  const goesOn = ["step-done", "clear-called", "make-safe-called", "released"];
  if (!hold || goesOn.includes(move.event.type)) return move;
  return call({ type: "hold-cleared", with: view.rig.responsible[0] ?? "", why: "seen to" });
};
