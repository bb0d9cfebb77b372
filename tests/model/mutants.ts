import { createMachine } from "xstate";
import { createSequence, type Sequence, TABLES, type Tables } from "../../core/sequence/advance.ts";
import type { FactRow } from "../../core/sequence/facts.ts";
import type { HoldTable } from "../../core/sequence/leads.ts";
import type { Rule } from "../../core/sequence/rules.ts";
import type { StateId } from "../../core/sequence/states.ts";
import type { EventType } from "../../core/sequence/vocabulary.ts";
import type { Documents } from "./independent-model.ts";
import { inOneGo, smallRig } from "./small-documents.ts";

/**
 * Everything that guards a run, taken out one at a time. Nothing here is listed by hand: the entries
 * come from the tables and from the chart's own configuration, so that a new one is a new mutant.
 */
export type Mutant = {
  /** What was taken out: `clear: void on line-crossed`. */
  readonly name: string;
  /** Where it is likeliest to show: events, and the state in which they are said. */
  readonly about: { readonly events: readonly string[]; readonly from?: string };
  readonly sequenceOf: (documents: Documents) => Sequence;
};

const inTables = (name: string, events: readonly string[], tables: Partial<Tables>): Mutant => ({
  name,
  about: { events },
  sequenceOf: ({ rig, procedure }) => createSequence(rig, procedure, { ...TABLES, ...tables }),
});

const without = <T>(list: readonly T[], index: number): readonly T[] =>
  list.filter((_, other) => other !== index);

const replaced = <T>(list: readonly T[], index: number, value: T): readonly T[] =>
  list.map((other, at) => (at === index ? value : other));

const OPTIONAL = ["by", "perRestraint", "onlyFor", "after", "standIn"] as const;

const dropKey = <T extends object>(from: T, key: keyof T): T => {
  const { [key]: _, ...rest } = from;
  return rest as T;
};

/** The chart is the same whatever the documents. */
const RIG = smallRig({ restraints: 2, emptying: "vent" });
const ANY: Documents = { rig: RIG, procedure: inOneGo(RIG) };

/** Whether the chart has an edge into this phase, by a word that does not void the fact, from where it can stand. */
const canEnterWith = (row: FactRow, phase: StateId): boolean => {
  const { states } = configOf(createSequence(ANY.rig, ANY.procedure));
  const standsIn = Object.keys(states).filter(
    (state) =>
      [...row.home, ...row.lasts].includes(state as StateId) ||
      (row.by !== undefined && states[state]?.on[row.by] !== undefined),
  );
  return standsIn.some((state) =>
    Object.entries(states[state]?.on ?? {}).some(
      ([event, list]) =>
        !row.voids.some(({ on, when, scope }) => on === event && !when && !scope) &&
        ([list].flat() as readonly Transition[]).some(({ target }) => target === phase),
    ),
  );
};

type Thinner = { readonly what: string; readonly event?: EventType; readonly row: FactRow };

/** A row with one of its entries taken out, for each of its entries. */
const thinnerRows = (row: FactRow): readonly Thinner[] => [
  ...row.needs.flatMap((need, at) => [
    { what: `needed at ${need.gate}`, event: need.gate, row: { ...row, needs: without(row.needs, at) } },
    ...(need.within === undefined
      ? []
      : [
          {
            what: `${need.within} at ${need.gate}`,
            event: need.gate,
            row: { ...row, needs: replaced(row.needs, at, dropKey(need, "within")) },
          },
        ]),
  ]),
  ...row.voids.flatMap((entry, at) => [
    {
      what: `void on ${entry.on}${entry.when ? ` when ${entry.when}` : ""}`,
      event: entry.on,
      row: { ...row, voids: without(row.voids, at) },
    },
    ...(["scope", "when"] as const)
      .filter((key) => entry[key] !== undefined)
      .map((key) => ({
        what: `${key} of void on ${entry.on}`,
        event: entry.on,
        row: { ...row, voids: replaced(row.voids, at, dropKey(entry, key)) },
      })),
  ]),
  ...row.lasts.map((state, at) => ({
    what: `carried into ${state}`,
    row: { ...row, lasts: without(row.lasts, at) },
  })),
  ...row.home.flatMap((state, at) => [
    { what: `at home in ${state}`, row: { ...row, home: without(row.home, at) } },
    // A phase that no longer starts its facts anew, where it can be entered with one that stands.
    ...(canEnterWith(row, state)
      ? [{ what: `started anew in ${state}`, row: { ...row, lasts: [...row.lasts, state] } }]
      : []),
  ]),
  ...OPTIONAL.filter((key) => row[key] !== undefined).map((key) => ({ what: key, row: dropKey(row, key) })),
];

const factMutants = (): readonly Mutant[] =>
  TABLES.facts.flatMap((row, at) =>
    thinnerRows(row).map((thinner) =>
      inTables(`${row.id}: ${thinner.what}`, thinner.event ? [thinner.event] : [], {
        facts: replaced(TABLES.facts, at, thinner.row),
      }),
    ),
  );

const ruleMutants = (): readonly Mutant[] =>
  TABLES.rules.flatMap((rule: Rule, at) => [
    inTables(`${rule.id}: the rule`, rule.at, { rules: without(TABLES.rules, at) }),
    ...(rule.at.length === 1 ? [] : rule.at).map((gate, index) =>
      inTables(`${rule.id}: at ${gate}`, [gate], {
        rules: replaced(TABLES.rules, at, { ...rule, at: without(rule.at, index) }),
      }),
    ),
  ]);

const tableMutants = (): readonly Mutant[] => [
  ...(Object.keys(TABLES.holds) as (keyof HoldTable)[]).flatMap((when) =>
    TABLES.holds[when].map((report, at) =>
      inTables(`hold ${when} on ${report}`, [report], {
        holds: { ...TABLES.holds, [when]: without(TABLES.holds[when], at) },
      }),
    ),
  ),
  ...TABLES.mustDiffer.map((pair, at) =>
    inTables(`${pair.join(" and ")} differ`, ["signed-on"], { mustDiffer: without(TABLES.mustDiffer, at) }),
  ),
];

type Transition = {
  readonly guard?: unknown;
  readonly target?: string;
  readonly actions?: {
    readonly type: string;
    readonly params?: { readonly from: StateId; readonly to?: StateId };
  };
};
type Config = {
  readonly states: {
    readonly [state: string]: {
      readonly tags: readonly string[];
      readonly on: { readonly [event: string]: unknown };
    };
  };
};

const configOf = ({ chart }: Sequence): Config => chart.config as unknown as Config;

const transitionsOf = (config: Config, state: string, event: string): readonly Transition[] =>
  [config.states[state]?.on[event]].flat() as readonly Transition[];

/** The chart of a sequence with one list of transitions replaced; the rest, and all its code, as it was. */
const withTransitions = (
  sequence: Sequence,
  state: string,
  event: string,
  transitions: readonly Transition[],
): Sequence => {
  const config = configOf(sequence);
  const own = config.states[state];
  const { [event]: _, ...others } = own?.on ?? {};
  const on = transitions.length > 0 ? { ...others, [event]: transitions } : others;
  const states = { ...config.states, [state]: { ...own, on } };
  const chart = createMachine({ ...config, states } as never, sequence.chart.implementations as never);
  return { ...sequence, chart: chart as unknown as Sequence["chart"] };
};

const inChart = (
  name: string,
  state: string,
  event: string,
  change: (transitions: readonly Transition[]) => readonly Transition[],
): Mutant => ({
  name,
  about: { events: [event], from: state },
  sequenceOf: ({ rig, procedure }) => {
    const sequence = createSequence(rig, procedure);
    return withTransitions(sequence, state, event, change(transitionsOf(configOf(sequence), state, event)));
  },
});

const guardName = (guard: unknown): string =>
  typeof guard === "string" ? guard : (guard as { readonly type: string }).type;

/** It is said, and nothing comes of it but its entry: the state stays. */
const staying = (transition: Transition): Transition => {
  const { from } = transition.actions?.params ?? { from: "preparing" };
  return { ...dropKey(transition, "target"), actions: { type: "apply", params: { from } } };
};

const chartMutants = (): readonly Mutant[] => {
  const config = configOf(createSequence(ANY.rig, ANY.procedure));
  return Object.entries(config.states).flatMap(([state, { on }]) =>
    Object.keys(on).flatMap((event) =>
      transitionsOf(config, state, event).flatMap((transition, at) => {
        const edge = `${state} ${event} ${transition.target ?? state}`;
        return [
          inChart(`edge ${edge}`, state, event, (list) => without(list, at)),
          ...(transition.guard === undefined
            ? []
            : [
                inChart(`guard ${guardName(transition.guard)} of ${edge}`, state, event, (list) =>
                  replaced(list, at, dropKey(transition, "guard")),
                ),
              ]),
          ...(transition.target === undefined
            ? []
            : [inChart(`lead ${edge}`, state, event, (list) => replaced(list, at, staying(transition)))]),
        ];
      }),
    ),
  );
};

/** A sequence that refuses everything, and one that asks for nothing, must not pass either. */
const blunt = (): readonly Mutant[] => [
  inTables("every rule refuses", [], {
    rules: TABLES.rules.map((rule) => ({ ...rule, holds: () => false })),
  }),
  inTables("no rule, no need", [], {
    rules: [],
    facts: TABLES.facts.map((row) => ({ ...row, needs: [] })),
  }),
];

export const mutants = (): readonly Mutant[] => [
  ...blunt(),
  ...factMutants(),
  ...ruleMutants(),
  ...tableMutants(),
  ...chartMutants(),
];
