import type { Documents } from "../../../app/demo/documents.ts";
import type { Step } from "../../../core/procedure/procedure.ts";
import type { Reading } from "../../../core/record/reading.ts";
import { isVolumeUnit, readingValue } from "../../../core/record/reading-value.ts";
import { advance, createSequence, type Sequence } from "../../../core/sequence/advance.ts";
import { type Snapshot, stepAtHand } from "../../../core/sequence/context.ts";
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

/** A run in the making: says one thing after another, a second apart unless told otherwise. */
class Walk {
  readonly sequence: Sequence;
  readonly events: SequenceEvent[] = [];
  snapshot: Snapshot;
  private at = 1_000_000;

  constructor({ rig, procedure }: Documents) {
    this.sequence = createSequence(rig, procedure);
    this.snapshot = this.sequence.initial;
  }

  say(event: SequenceEvent, by = CREW.conductor, after_ms = 1_000): void {
    this.at += after_ms;
    const act = { seq: this.events.length, at: this.at, mono: this.at * 10, session: "s", by, event };
    const result = advance(this.sequence, this.snapshot, act);
    if (!result.ok) {
      const why = result.issues.map(({ code, detail }) => `${code} (${detail})`).join(", ");
      throw new Error(`${JSON.stringify(event)} refused while ${this.snapshot.state}: ${why}`);
    }
    this.events.push(event);
    this.snapshot = result.value;
  }

  steps(): void {
    const { doc } = this.sequence;
    for (let step = stepAtHand(doc, this.snapshot); step; step = stepAtHand(doc, this.snapshot))
      if (step.form.kind === "each-restraint") this.answerEach(step, step.form.round);
      else this.do(step);
  }

  private answerEach(step: Step, round: 1 | 2): void {
    const { restraints } = this.sequence.doc.rig;
    const seenBy = CREW[step.role];
    const by = round === 1 ? CREW.conductor : seenBy;
    if (round === 2) this.say({ type: "handed-over", to: seenBy });
    for (const { id } of round === 1 ? restraints : [...restraints].reverse())
      this.say({ type: "restraint-answered", restraint: id, round, answer: "home", seenBy }, by, 4_000);
    if (round === 2) this.say({ type: "handed-over", to: CREW.conductor }, seenBy);
  }

  private do(step: Step): void {
    const { form } = step;
    const answer = form.kind === "look" ? form.answers.find(({ good }) => good)?.text : undefined;
    const reading = form.kind === "measure" ? goodReading(step) : undefined;
    const after_ms = form.kind === "wait" ? form.seconds * 1000 : 1_000;
    const done = { type: "step-done", step: step.id, seenBy: CREW[step.role] } as const;
    this.say({ ...done, ...(answer && { answer }), ...(reading && { reading }) }, CREW.conductor, after_ms);
  }
}

/** Plays a run in which everything goes well; throws with the refusal where something does not. */
export const walkNominalRun = (documents: Documents): Walked => {
  const walk = new Walk(documents);
  for (const role of ROLES) walk.say({ type: "signed-on", person: CREW[role], role });
  for (const call of TO_ZERO) {
    walk.steps();
    walk.say({ type: call });
  }
  walk.say({ type: "released" }, CREW.conductor, 3_000);
  walk.steps();
  walk.say({ type: "wait-called" });
  const waited_ms = documents.rig.limits.waitAfterRelease_s * 1000;
  walk.say({ type: "approach-called", person: CREW.installer }, CREW.conductor, waited_ms);
  walk.steps();
  walk.say({ type: "close-called" });
  return { snapshot: walk.snapshot, events: walk.events };
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

/** The middle of the band as somebody would type it in the step's own unit: a vessel is read at 20 °C. */
export const goodReading = (step: Step): Reading => {
  if (step.form.kind !== "measure") throw new Error(`${step.id} measures nothing`);
  const { unit, instrument, quantity, band } = step.form;
  const as = (typed: string): Reading =>
    quantity === "water" && isVolumeUnit(unit)
      ? { kind: "volume", typed, unit, temperature: "20", temperatureUnit: "°C", instrument }
      : { kind: "single", typed, unit, instrument };
  const scale = readingValue(as("1"), quantity);
  if (!scale.ok) throw new Error(`${step.id}: ${unit} is no unit of ${quantity}`);
  const { min = 0, max = min } = band;
  const typed = (band.min === undefined ? 0 : (min + max) / 2) / scale.value;
  return as(String(Number(typed.toFixed(4))));
};
