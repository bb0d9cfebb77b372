import type { Procedure, Step } from "../../../core/procedure/procedure.ts";
import { appendEntry } from "../../../core/record/append.ts";
import { canonicalDocument } from "../../../core/record/canonical.ts";
import { digest } from "../../../core/record/digest.ts";
import type { Entry, LogEvent } from "../../../core/record/entry.ts";
import type { Reading } from "../../../core/record/reading.ts";
import { readingValue } from "../../../core/record/reading-value.ts";
import { isAboutTheRecord } from "../../../core/record/replay.ts";
import type { Rig } from "../../../core/rig/rig.ts";
import { advance, createSequence } from "../../../core/sequence/advance.ts";
import { type Snapshot, stepAtHand } from "../../../core/sequence/context.ts";
import { ROLES, type Role } from "../../../core/sequence/roles.ts";
import type { PermissionType } from "../../../core/sequence/vocabulary.ts";
import { type Chance, chance } from "./chance.ts";
import { type TermRun, termSeed } from "./term-plan.ts";

/** Codes of an invented crew: its letter, and a number for the role. */
const crewOf = (crew: string): { readonly [R in Role]: string } =>
  Object.fromEntries(ROLES.map((role, i) => [role, `${crew}${i + 1}`])) as { [R in Role]: string };

const forward = [
  "fill-called",
  "seal-called",
  "mount-called",
  "restrain-called",
  "line-called",
  "air-called",
  "pressure-called",
  "arm-called",
  "release-called",
] as const satisfies readonly PermissionType[];

/** Plays one SYNTHETIC run through the real sequence: every entry is one that it accepted. */
export function walkRun(run: TermRun, documents: { rig: Rig; procedure: Procedure }): readonly Entry[] {
  return new Walk(run, documents).play();
}

class Walk {
  readonly #run: TermRun;
  readonly #rig: Rig;
  readonly #procedure: Procedure;
  readonly #crew: { readonly [R in Role]: string };
  readonly #luck: Chance;
  readonly #sequence: ReturnType<typeof createSequence>;
  readonly #entries: Entry[] = [];
  #snapshot: Snapshot;
  #at_ms: number;

  constructor(run: TermRun, { rig, procedure }: { rig: Rig; procedure: Procedure }) {
    this.#run = run;
    this.#rig = rig;
    this.#procedure = procedure;
    this.#crew = crewOf(run.crew);
    this.#luck = chance(termSeed + 7 * (run.number + 1));
    this.#sequence = createSequence(rig, procedure);
    this.#snapshot = this.#sequence.initial;
    this.#at_ms = run.openedAt_ms;
  }

  play(): readonly Entry[] {
    const { conductor, installer } = this.#crew;
    const hash = (document: unknown) => {
      const text = canonicalDocument(document);
      return digest(text.ok ? text.value : "");
    };
    this.#say({
      type: "opened",
      run: this.#run.code,
      rig: hash(this.#rig),
      procedure: hash(this.#procedure),
      drill: false,
      transcribed: false,
      software: "SYNTHETIC demo term",
    });
    for (const role of ROLES) this.#say({ type: "signed-on", person: this.#crew[role], role }, 3);
    for (const call of forward) {
      this.#steps();
      if (call === "line-called" && this.#run.story === "held-and-cleared") this.#holdAndClear();
      this.#say({ type: call }, 4);
    }
    this.#say({ type: "released" }, 3.2);
    this.#steps();
    this.#say({ type: "wait-called" }, 4);
    this.#say({ type: "approach-called", person: installer }, this.#rig.limits.waitAfterRelease_s + 2);
    this.#steps();
    if (this.#run.story === "leaked-before-release")
      this.#say({ type: "noted", text: "Drops under the slide while we counted down" }, 9);
    this.#say({ type: "close-called" }, 5, conductor);
    return this.#entries;
  }

  #steps(): void {
    for (;;) {
      const step = stepAtHand(this.#sequence.doc, this.#snapshot);
      if (!step) return;
      if (step.form.kind === "each-restraint") this.#restraints(step, step.form.round);
      else this.#step(step);
    }
  }

  #step(step: Step): void {
    const seenBy = this.#crew[step.role];
    if (this.#run.story === "step-skipped" && step.skippable) {
      this.#say(
        {
          type: "step-skipped",
          step: step.id,
          reason: "equipment-missing",
          words: "Left in the other case",
          agreedBy: this.#crew.installer,
        },
        6,
      );
      return;
    }
    const { form } = step;
    const answer = form.kind === "look" ? form.answers.find(({ good }) => good)?.text : undefined;
    const reading = form.kind === "measure" ? this.#reading(step) : undefined;
    const took_s =
      form.kind === "wait" ? form.seconds + 1 : Math.max(2, step.takes_s * this.#luck.between(0.5, 1.2));
    this.#say(
      { type: "step-done", step: step.id, seenBy, ...(answer && { answer }), ...(reading && { reading }) },
      took_s,
    );
  }

  #restraints(step: Step, round: 1 | 2): void {
    const seenBy = this.#crew[step.role];
    const by = round === 1 ? this.#crew.conductor : seenBy;
    if (round === 2) this.#say({ type: "handed-over", to: seenBy }, 4);
    const order = round === 1 ? this.#rig.restraints : [...this.#rig.restraints].reverse();
    for (const [i, { id }] of order.entries()) {
      const caught = round === 1 && i === 2 && this.#run.story === "first-look-catch";
      const answered = { type: "restraint-answered", restraint: id, round, seenBy } as const;
      if (caught) this.#say({ ...answered, answer: "part" }, 5, by);
      this.#say({ ...answered, answer: "home" }, this.#luck.between(3, 7), by);
    }
    if (round === 2) this.#say({ type: "handed-over", to: this.#crew.conductor }, 3, seenBy);
  }

  #holdAndClear(): void {
    const { conductor, verifier } = this.#crew;
    this.#say({ type: "hold-called", why: "A dog on the field" }, 5, conductor);
    this.#say(
      { type: "hold-cleared", with: verifier, why: "It is on a lead behind the line" },
      70,
      conductor,
    );
  }

  /** What the instrument showed, as the crew typed it: in the step's unit, to the instrument's last digit. */
  #reading(step: Step): Reading {
    if (step.form.kind !== "measure") throw new Error(`${step.id} measures nothing`);
    const { unit, instrument, quantity, band } = step.form;
    const scale = readingValue({ kind: "single", typed: "1", unit, instrument }, quantity);
    if (!scale.ok) throw new Error(`${step.id}: ${unit} is no unit of ${quantity}`);
    const { truth, set_Pa, water_kg } = this.#run;
    const middle = ((band.min ?? 0) + (band.max ?? band.min ?? 0)) / 2;
    const shown =
      quantity === "water"
        ? water_kg + 0.001 * this.#luck.normal()
        : quantity === "temperature"
          ? truth.water_C
          : instrument === this.#rig.supply.gauge
            ? truth.supply_Pa
            : quantity === "pressure"
              ? set_Pa
              : middle;
    const decimals = { water: 0, pressure: 2, temperature: 1, force: 0, duration: 0, count: 0 }[quantity];
    const typed = Math.min(band.max ?? shown, Math.max(band.min ?? shown, shown)) / scale.value;
    return { kind: "single", typed: typed.toFixed(decimals), unit, instrument };
  }

  #say(event: LogEvent, after_s = 1, by: string = this.#crew.conductor): void {
    this.#at_ms += Math.round(after_s * 1000);
    const stamp = {
      at: this.#at_ms,
      mono: (this.#at_ms - this.#run.openedAt_ms) * 10,
      session: `synthetic-${this.#run.number}`,
    };
    if (!isAboutTheRecord(event)) {
      const folded = advance(this.#sequence, this.#snapshot, {
        ...stamp,
        seq: this.#entries.length,
        by,
        event,
      });
      if (!folded.ok) {
        const why = folded.issues.map(({ code }) => code).join(", ");
        throw new Error(`${this.#run.code}: ${event.type} refused while ${this.#snapshot.state}: ${why}`);
      }
      this.#snapshot = folded.value;
    }
    const log = `synthetic${this.#run.code.replaceAll("-", "").toLowerCase()}`;
    const sealed = appendEntry(this.#entries.at(-1), { ...stamp, log, device: "synthetic", by, event });
    if (!sealed.ok) throw new Error(sealed.issues.map(({ detail }) => detail).join("; "));
    this.#entries.push(sealed.value);
  }
}
