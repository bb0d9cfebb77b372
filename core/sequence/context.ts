import { type Procedure, type Step, stepsOf } from "../procedure/procedure.ts";
import type { Rig } from "../rig/rig.ts";
import { type FactId, type FactRow, factKey, factRow } from "./facts.ts";
import type { HoldTable } from "./leads.ts";
import type { Role, RolePair } from "./roles.ts";
import type { Rule } from "./rules.ts";
import type { StateId } from "./states.ts";
import type { HoldKind, Stamp } from "./vocabulary.ts";

/** What a run goes by: its own rig and procedure, whole, and the tables that judge it. */
export type Doc = {
  readonly rig: Rig;
  readonly procedure: Procedure;
  readonly facts: readonly FactRow[];
  readonly rules: readonly Rule[];
  readonly holds: HoldTable;
  readonly mustDiffer: readonly RolePair[];
};

/** A fact that stands: since which entry, said by whom. */
export type Standing = Stamp & { readonly seq: number; readonly person: string };

export type Hold = {
  readonly kind: HoldKind;
  readonly by: string;
  readonly why: string;
  readonly seq: number;
  /** The step that was at hand: it is done again after the hold, and the one before read again. */
  readonly step?: string;
};

/** How the last release went, judged from the stamps of the two taps. */
export type ReleaseSeen = { readonly seq: number; readonly onTime: boolean; readonly called: boolean };

/** Facts now standing, who and when, the hold, and a few counters. Plain data: it is the fold. */
export type Context = {
  /** The entry that was folded last: every accepted act changes it. */
  readonly seq: number;
  /** When the step at hand became so: a timed step is measured from here. */
  readonly stepSince: Stamp | undefined;
  readonly facts: { readonly [key: string]: Standing };
  /** Steps of the run that were done or skipped, and since which entry. */
  readonly steps: { readonly [step: string]: { readonly seq: number; readonly how: "done" | "skipped" } };
  /** Something was done in this run, whatever became of it: until then a sign-on may be a slip. */
  readonly begun: boolean;
  readonly crew: { readonly [R in Role]?: string };
  /** Every role a person has held in this run: two that must differ never meet in one person. */
  readonly held: { readonly [person: string]: readonly Role[] };
  /** Whoever has the phone in hand. */
  readonly holder: string | undefined;
  readonly hold: Hold | undefined;
  /** Holds that come to the fore when the one before them is cleared. */
  readonly furtherHolds: readonly Hold[];
  /** Instruments whose last reading lay outside the limits. */
  readonly outside: readonly string[];
  /** What the gauges behind the supply showed in this charging. */
  readonly readings: { readonly [gauge: string]: number };
  readonly buildUps: number;
  /** Zeros in this build-up. */
  readonly zeros: number;
  /** Pulls of the release in this build-up, discharges included. */
  readonly pulls: number;
  readonly pressureSince: Stamp | undefined;
  readonly zeroAt: (Stamp & { readonly seq: number }) | undefined;
  readonly waitSince: Stamp | undefined;
  /** A misfire, a restart, anything but a release that was seen: the long wait applies. */
  readonly doubt: boolean;
  readonly release: ReleaseSeen | undefined;
};

export type Snapshot = { readonly state: StateId; readonly context: Context };

export const EMPTY: Context = {
  seq: -1,
  stepSince: undefined,
  facts: {},
  steps: {},
  begun: false,
  crew: {},
  held: {},
  holder: undefined,
  hold: undefined,
  furtherHolds: [],
  outside: [],
  readings: {},
  buildUps: 0,
  zeros: 0,
  pulls: 0,
  pressureSince: undefined,
  zeroAt: undefined,
  waitSince: undefined,
  doubt: true,
  release: undefined,
};

/** The keys under which a fact is held: one, or one for each restraint of the rig. */
export const keysOf = (doc: Doc, row: FactRow): readonly string[] =>
  row.perRestraint ? doc.rig.restraints.map((restraint) => factKey(row.id, restraint.id)) : [factKey(row.id)];

/** Stands, in every restraint where it is held per restraint. */
export const stands = (doc: Doc, context: Context, id: FactId): boolean => {
  const row = factRow(doc.facts, id);
  return row !== undefined && keysOf(doc, row).every((key) => context.facts[key] !== undefined);
};

/** A step is open until it is done and everything that it proves still stands. */
export const isOpen = (doc: Doc, context: Context, step: Step): boolean => {
  if (context.steps[step.id]?.how === "skipped") return false;
  const answeredOneByOne = step.form.kind === "each-restraint";
  if (!answeredOneByOne && context.steps[step.id] === undefined) return true;
  return !step.proves.every((id) => stands(doc, context, id));
};

export const openSteps = (doc: Doc, snapshot: Snapshot): readonly Step[] =>
  stepsOf(doc.procedure, snapshot.state).filter((step) => isOpen(doc, snapshot.context, step));

/** The step at hand: steps are done in their order, so it is the first that is open. */
export const stepAtHand = (doc: Doc, snapshot: Snapshot): Step | undefined => openSteps(doc, snapshot)[0];

/** The roles that a person has held; codes are free words, so that only the record's own keys count. */
export const rolesHeld = ({ held }: Pick<Context, "held">, person: string): readonly Role[] =>
  (Object.hasOwn(held, person) ? held[person] : undefined) ?? [];
