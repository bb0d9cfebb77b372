import type { Documents } from "../../../app/demo/documents.ts";
import type { Step } from "../../../core/procedure/procedure.ts";
import type { Reading } from "../../../core/record/reading.ts";
import { readingValue } from "../../../core/record/reading-value.ts";
import { advance, createSequence, type Sequence } from "../../../core/sequence/advance.ts";
import { openSteps, type Snapshot, stepAtHand } from "../../../core/sequence/context.ts";
import { ROLES, type Role } from "../../../core/sequence/roles.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";

/** An invented crew of five: a code for each role. */
export const CREW: { readonly [R in Role]: string } = {
  conductor: "C1",
  installer: "I1",
  verifier: "V1",
  releaser: "L1",
  caller: "N1",
};

export type Walked = { readonly snapshot: Snapshot; readonly events: readonly SequenceEvent[] };

/** Plays a run in which everything goes well; throws with the refusal where something does not. */
export const walkNominalRun = ({ rig, procedure }: Documents): Walked => {
  const sequence: Sequence = createSequence(rig, procedure);
  const events: SequenceEvent[] = [];
  let snapshot = sequence.initial;
  let seq = 0;
  let at = 1_000_000;

  const say = (event: SequenceEvent, by = CREW.conductor, after_ms = 1_000): void => {
    at += after_ms;
    const result = advance(sequence, snapshot, { seq, at, mono: at * 10, session: "s", by, event });
    if (!result.ok) {
      const why = result.issues.map(({ code, detail }) => `${code} (${detail})`).join(", ");
      throw new Error(`${JSON.stringify(event)} refused while ${snapshot.state}: ${why}`);
    }
    seq += 1;
    events.push(event);
    snapshot = result.value;
  };

  const answerEach = (step: Step, round: 1 | 2): void => {
    const seenBy = CREW[step.role];
    const by = round === 1 ? CREW.conductor : seenBy;
    const order = round === 1 ? rig.restraints : [...rig.restraints].reverse();
    if (round === 2) say({ type: "handed-over", to: seenBy });
    for (const { id } of order)
      say({ type: "restraint-answered", restraint: id, round, answer: "home", seenBy }, by, 4_000);
    if (round === 2) say({ type: "handed-over", to: CREW.conductor }, seenBy);
  };

  const doSteps = (): void => {
    for (let step = stepAtHand(sequence.doc, snapshot); step; step = stepAtHand(sequence.doc, snapshot)) {
      const { form } = step;
      if (form.kind === "each-restraint") {
        answerEach(step, form.round);
        continue;
      }
      const answer = form.kind === "look" ? form.answers.find(({ good }) => good)?.text : undefined;
      const reading = form.kind === "measure" ? goodReading(step) : undefined;
      const after_ms = form.kind === "wait" ? form.seconds * 1000 : 1_000;
      const done = { type: "step-done", step: step.id, seenBy: CREW[step.role] } as const;
      say({ ...done, ...(answer && { answer }), ...(reading && { reading }) }, CREW.conductor, after_ms);
    }
    if (openSteps(sequence.doc, snapshot).length > 0) throw new Error(`steps open in ${snapshot.state}`);
  };

  for (const role of ROLES) say({ type: "signed-on", person: CREW[role], role });
  for (const call of TO_ZERO) {
    doSteps();
    say({ type: call });
  }
  say({ type: "released" }, CREW.conductor, 3_000);
  doSteps();
  say({ type: "wait-called" });
  say(
    { type: "approach-called", person: CREW.installer },
    CREW.conductor,
    rig.limits.waitAfterRelease_s * 1000,
  );
  doSteps();
  say({ type: "close-called" });
  return { snapshot, events };
};

const TO_ZERO = [
  "fill-called",
  "seal-called",
  "mount-called",
  "restrain-called",
  "line-called",
  "air-called",
  "pressure-called",
  "arm-called",
  "release-called",
] as const;

/** The middle of the band as somebody would type it in the step's own unit. */
export const goodReading = (step: Step): Reading => {
  if (step.form.kind !== "measure") throw new Error(`${step.id} measures nothing`);
  const { unit, instrument, quantity, band } = step.form;
  const one = { kind: "single", typed: "1", unit, instrument } as const;
  const scale = readingValue(one, quantity);
  if (!scale.ok) throw new Error(`${step.id}: ${unit} is no unit of ${quantity}`);
  const { min = 0, max = min } = band;
  const typed = (band.min === undefined ? 0 : (min + max) / 2) / scale.value;
  return { ...one, typed: String(Number(typed.toFixed(4))) };
};
