import { expect } from "vitest";
import { findStep, type Procedure } from "../../core/procedure/procedure.ts";
import type { Reading } from "../../core/record/reading.ts";
import { readingValue } from "../../core/record/reading-value.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { advance, createSequence, type Sequence } from "../../core/sequence/advance.ts";
import { type Snapshot, stepAtHand } from "../../core/sequence/context.ts";
import type { StateId } from "../../core/sequence/states.ts";
import type { RestraintAnswer, SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";

/** SYNTHETIC crew: conductor, installer, verifier, releaser, caller at the recorder. */
export const CREW = { conductor: "c", installer: "i", verifier: "v", releaser: "r", caller: "n" } as const;

const bar = (typed: string, instrument: string): Reading => ({
  kind: "single",
  typed,
  unit: "bar",
  instrument,
});

/** Takes one run by hand through the real `advance`, second by second, as a crew would. */
export class Walk {
  readonly sequence: Sequence;
  snapshot: Snapshot;
  seq = 0;
  session = "first";
  time_s = 0;

  constructor(rig: Rig, procedure: Procedure, tables?: Parameters<typeof createSequence>[2]) {
    this.sequence = createSequence(rig, procedure, tables);
    this.snapshot = this.sequence.initial;
  }

  get state(): StateId {
    return this.snapshot.state;
  }

  get now(): Stamp {
    return { at: this.time_s * 1000, mono: this.time_s * 10_000, session: this.session };
  }

  wait(seconds: number): this {
    this.time_s += seconds;
    return this;
  }

  /** The codes of all that is missing; empty when the event was accepted. */
  try(event: SequenceEvent, by: string = CREW.conductor): readonly string[] {
    this.wait(1);
    const result = advance(this.sequence, this.snapshot, { ...this.now, seq: this.seq, by, event });
    this.seq += 1;
    if (!result.ok) return result.issues.map(({ code }) => code);
    this.snapshot = result.value;
    return [];
  }

  /** Says it and insists that it is accepted. */
  say(event: SequenceEvent, by?: string): this {
    expect(this.try(event, by), `${event.type} while ${this.state}`).toEqual([]);
    return this;
  }

  signOn(): this {
    for (const [role, person] of Object.entries(CREW))
      this.say({ type: "signed-on", person, role: role as keyof typeof CREW });
    return this;
  }

  /** Does the step at hand, and does it well. */
  step(): this {
    const step = stepAtHand(this.sequence.doc, this.snapshot);
    expect(step, `a step at hand while ${this.state}`).toBeDefined();
    const { form, id, role } = step!;
    const seenBy = this.snapshot.context.crew[role] ?? "nobody";
    switch (form.kind) {
      case "look":
        return this.say({
          type: "step-done",
          step: id,
          seenBy,
          answer: form.answers.find(({ good }) => good)!.text,
        });
      case "measure": {
        const { min, max } = form.band;
        // In the middle of the band, or on the end that an open one has.
        const middle = ((min ?? max ?? 0) + (max ?? min ?? 0)) / 2;
        // Water that is asked for by a vessel's marks may be weighed as well.
        const unit = { mL: "g", L: "kg" }[form.unit] ?? form.unit;
        const one: Reading = { kind: "single", typed: "1", unit, instrument: form.instrument };
        const factor = readingValue(one, form.quantity);
        const typed = (middle / (factor.ok ? factor.value : 1)).toFixed(3);
        const reading: Reading = { kind: "single", typed, unit, instrument: form.instrument };
        return this.say({ type: "step-done", step: id, seenBy, reading });
      }
      case "wait":
        return this.wait(form.seconds).say({ type: "step-done", step: id, seenBy });
      case "each-restraint":
        return form.round === 1 ? this.firstLooks() : this.secondLooks();
      default:
        return this.say({ type: "step-done", step: id, seenBy });
    }
  }

  /** Does every step of the stage that is still open. */
  steps(): this {
    while (stepAtHand(this.sequence.doc, this.snapshot)) this.step();
    return this;
  }

  look(round: 1 | 2, restraint: string, answer: RestraintAnswer = "home"): this {
    const seenBy = round === 1 ? CREW.installer : CREW.verifier;
    const by = round === 1 ? CREW.conductor : CREW.verifier;
    return this.say({ type: "restraint-answered", restraint, round, answer, seenBy }, by);
  }

  firstLooks(): this {
    for (const { id } of this.sequence.doc.rig.restraints) this.look(1, id);
    return this;
  }

  /** The phone goes to the verifier, who looks in the other order, and back. */
  secondLooks(): this {
    this.say({ type: "handed-over", to: CREW.verifier });
    for (const { id } of this.sequence.doc.rig.restraints.toReversed()) this.look(2, id);
    return this.say({ type: "handed-over", to: CREW.conductor }, CREW.verifier);
  }

  /** Straight on, the good way, until the state is reached. */
  to(state: StateId): this {
    for (let moves = 0; this.state !== state; moves += 1) {
      expect(moves, `${state} is reached`).toBeLessThan(40);
      this.onward();
    }
    return this;
  }

  /** The steps of this stage, then the call that ends it. */
  private onward(): void {
    if (this.state === "preparing" && this.snapshot.context.crew.conductor === undefined) this.signOn();
    if (this.state !== "zeroed" && this.state !== "waiting") this.steps();
    switch (this.state) {
      case "preparing":
        return void this.say({ type: "fill-called" });
      case "filling":
        return void this.say({ type: "seal-called" });
      case "sealing":
        return void this.say({ type: "mount-called" });
      case "mounting":
        return void this.say({ type: "restrain-called" });
      case "restraining":
        return void this.say({ type: "line-called" });
      case "clearing":
        return void this.say({ type: "air-called" });
      case "charging":
        return void this.say({ type: "pressure-called" });
      case "charged":
        return void this.say({ type: "arm-called" });
      case "armed":
        return void this.say({ type: "release-called" });
      case "zeroed":
        return void this.say({ type: "released" });
      case "making-safe":
        return void this.say({ type: "wait-called" });
      case "waiting":
        return void this.wait(60).say({ type: "approach-called", person: CREW.installer });
      case "approaching":
        return void this.say({ type: "close-called" });
      case "unknown":
        return void this.say({ type: "make-safe-called", why: "after a restart" });
      default:
        throw new Error(`no way on from ${this.state}`);
    }
  }

  gauge(gauge: string, typed: string): this {
    return this.say({ type: "gauge-read", gauge, reading: bar(typed, gauge) });
  }

  restart(): this {
    this.session = `${this.session}+`;
    return this.say({ type: "restarted" });
  }

  clearHold(): this {
    return this.say({ type: "hold-cleared", with: CREW.installer, why: "put right" });
  }

  stands(key: string): boolean {
    return this.snapshot.context.facts[key] !== undefined;
  }

  /** The step that a procedure names, for tests that do it out of turn. */
  phaseOf(id: string): string | undefined {
    return findStep(this.sequence.doc.procedure, id)?.phase;
  }
}
