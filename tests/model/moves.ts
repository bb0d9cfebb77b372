import type { Step } from "../../core/procedure/procedure.ts";
import type { Reading } from "../../core/record/reading.ts";
import type { Act, BackTarget, SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { CALLS as CALLED_FROM } from "./independent/permissions.ts";
import type { Documents } from "./independent-model.ts";

/** Everything that a crew, a gauge, a phone or a bystander can say: an event and who enters it. */
export type Move = { readonly event: SequenceEvent; readonly by: string };

export type Crew = {
  readonly conductor: string;
  readonly installer: string;
  readonly verifier: string;
  readonly releaser: string;
  readonly caller: string;
};

/** SYNTHETIC. Four at the stand and the caller; or three, where one installs and releases. */
export const FOUR: Crew = { conductor: "c", installer: "i", verifier: "v", releaser: "r", caller: "n" };
export const THREE: Crew = { conductor: "c", installer: "i", verifier: "v", releaser: "i", caller: "n" };
/** Neither signed on nor responsible. */
export const STRANGER = "s";

const reading = (typed: string, unit: string, instrument: string): Reading => ({
  kind: "single",
  typed,
  unit,
  instrument,
});

export const bar = (typed: string, gauge: string): SequenceEvent => ({
  type: "gauge-read",
  gauge,
  reading: reading(typed, "bar", gauge),
});

type Measure = Extract<Step["form"], { kind: "measure" }>;

/** SI in one of the step's own unit; a vessel's millilitres are taken at 20 °C. */
const PER_UNIT: { readonly [unit: string]: number } = {
  bar: 1e5,
  kPa: 1e3,
  psi: 6894.757293168362,
  g: 1e-3,
  min: 60,
  mL: 0.9982e-3,
  L: 0.9982,
};
const asTyped = ({ unit, instrument, quantity }: Measure, value: number): Reading => {
  const number = (value / (PER_UNIT[unit] ?? 1)).toFixed(4);
  const vessel = quantity === "water" && (unit === "mL" || unit === "L");
  return vessel
    ? { kind: "volume", typed: number, unit, temperature: "20", temperatureUnit: "°C", instrument }
    : reading(number, unit, instrument);
};

const inside = ({ min, max }: { readonly min?: number; readonly max?: number }): number => {
  if (min !== undefined && max !== undefined) return (min + max) / 2;
  return max ?? min ?? 0;
};

/** Outside the band, and for a pressure beyond any bottle's limit. */
const outside = ({ band: { min, max }, quantity }: Measure): readonly number[] => {
  const beyond = max !== undefined ? max * 1.05 + 1 : (min ?? 0) * 0.95 - 1;
  return quantity === "pressure" ? [beyond, 2e6] : [beyond];
};

/** A step answered the good way first, then every bad way that its form has. */
export const answers = (step: Step, seenBy: string): readonly SequenceEvent[] => {
  const { form, id } = step;
  const done = { type: "step-done", step: id, seenBy } as const;
  if (form.kind === "look")
    return [...form.answers]
      .sort((a, b) => Number(b.good) - Number(a.good))
      .map(({ text }) => ({ ...done, answer: text }));
  if (form.kind !== "measure") return [done];
  return [inside(form.band), ...outside(form)].map((value) => ({
    ...done,
    reading: asTyped(form, value),
  }));
};

export type MoveOptions = {
  readonly crew: Crew;
  /** Who may call a hold: each of them has to agree to its end. */
  readonly holdCallers: readonly string[];
  /** Entries that somebody may correct. */
  readonly correctable: readonly number[];
  /** Whether the calls and steps of other stages are tried as well. */
  readonly outOfTurn: boolean;
  /** People who may sign on during the run, and as what. */
  readonly relief: readonly Extract<SequenceEvent, { type: "signed-on" }>[];
};

const CALLS = [
  "fill-called",
  "seal-called",
  "mount-called",
  "restrain-called",
  "line-called",
  "air-called",
  "pressure-called",
  "arm-called",
  "release-called",
  "discharge-called",
  "wait-called",
  "close-called",
] as const;

/** Each call by the conductor and, where it could be made at all, by another. */
const calls = (crew: Crew, state: string, outOfTurn: boolean): readonly Move[] => {
  const here = CALLS.filter((type) => CALLED_FROM[type]?.some(([from]) => from === state));
  return [
    ...(outOfTurn ? CALLS : here).map((type): Move => ({ event: { type }, by: crew.conductor })),
    ...here.map((type): Move => ({ event: { type }, by: crew.verifier })),
  ];
};

const stepMoves = (docs: Documents, crew: Crew, state: string, outOfTurn: boolean): readonly Move[] =>
  Object.entries(docs.procedure.phases).flatMap(([phase, steps]) =>
    steps.flatMap((step): readonly Move[] => {
      if (phase !== state && !outOfTurn) return [];
      const right = answers(step, crew[step.role]).map((event) => ({ event, by: crew.conductor }));
      if (phase !== state) return right.slice(0, 1);
      const skipped = {
        type: "step-skipped",
        step: step.id,
        reason: "equipment-missing",
        words: "none",
      } as const;
      return [
        ...right,
        ...answers(step, crew.caller === crew[step.role] ? crew.verifier : crew.caller)
          .slice(0, 1)
          .map((event) => ({ event, by: crew.conductor })),
        { event: { ...skipped, agreedBy: crew.verifier }, by: crew.conductor },
        { event: { ...skipped, agreedBy: crew.conductor }, by: crew.conductor },
      ];
    }),
  );

const lookMoves = ({ rig }: Documents, crew: Crew, state: string): readonly Move[] => {
  const { installer, verifier, conductor } = crew;
  return rig.restraints.flatMap(({ id }, index): readonly Move[] => {
    const first = { type: "restraint-answered", restraint: id, round: 1 } as const;
    const second = { ...first, round: 2 } as const;
    const one: Move = { event: { ...first, answer: "home", seenBy: installer }, by: conductor };
    if (state !== "restraining") return index === 0 ? [one] : [];
    const unknown: Move = {
      event: { ...first, restraint: "no such", answer: "open", seenBy: installer },
      by: conductor,
    };
    return [
      ...(index === 0 ? [unknown] : []),
      one,
      { event: { ...first, answer: "home", seenBy: verifier }, by: conductor },
      { event: { ...first, answer: "part", seenBy: installer }, by: conductor },
      { event: { ...second, answer: "home", seenBy: verifier }, by: verifier },
      { event: { ...second, answer: "home", seenBy: verifier }, by: conductor },
      { event: { ...second, answer: "home", seenBy: installer }, by: installer },
      { event: { ...second, answer: "open", seenBy: verifier }, by: verifier },
    ];
  });
};

const gaugeMoves = ({ rig }: Documents, by: string): readonly Move[] => {
  const over = (rig.bottle.limit_Pa / 1e5 + 0.1).toFixed(2);
  const set = (rig.pressure.set_Pa / 1e5).toFixed(2);
  const behind = rig.gauges.filter(({ id }) => id !== rig.supply.gauge);
  return behind.flatMap(({ id, side }) => [
    { event: bar("0", id), by },
    { event: bar(set, id), by },
    { event: bar(over, id), by },
    // Half of what was set: inside every limit, and in plain disagreement with the other gauge.
    ...(side === "bottle" ? [{ event: bar((rig.pressure.set_Pa / 2e5).toFixed(2), id), by }] : []),
  ]);
};

const reports = (docs: Documents, { crew, holdCallers, correctable }: MoveOptions): readonly Move[] => {
  const by = crew.conductor;
  const events: readonly SequenceEvent[] = [
    { type: "make-safe-called", why: "" },
    { type: "released" },
    { type: "nothing-happened" },
    { type: "window-passed" },
    { type: "air-seen-on" },
    ...docs.rig.restraints.map(({ id }) => ({ type: "restraint-seen-open", restraint: id }) as const),
    { type: "line-crossed" },
    { type: "bottle-moved" },
    { type: "leak-seen" },
    { type: "water-in-line" },
    { type: "staff-called", why: "" },
    { type: "kit-tagged-out", part: "slide", why: "worn" },
    { type: "noted", text: "wind" },
    ...correctable.map((entry) => ({ type: "corrected", entry, why: "slip" }) as const),
    { type: "handed-over", to: crew.verifier },
    { type: "handed-over", to: crew.conductor },
    { type: "restarted" },
    { type: "interrupted", cause: "locked", gap_ms: 9000 },
    { type: "clock-jumped", wallGap_ms: 9000, monoGap_ms: 0 },
    { type: "power-low", percent: 9 },
    { type: "refused", event: "air-called", missing: [] },
  ];
  return [
    ...events.map((event) => ({ event, by })),
    ...gaugeMoves(docs, by),
    ...holdCallers.map((caller): Move => ({ event: { type: "hold-called", why: "stop" }, by: caller })),
  ];
};

const words = (crew: Crew): readonly Move[] => {
  const by = crew.conductor;
  const back = ["preparing", "filling", "sealing", "mounting", "restraining"] as const;
  const pairs = [
    [by, crew.installer],
    [by, crew.verifier],
    [by, crew.releaser],
    [by, by],
    [crew.installer, crew.verifier],
  ] as const;
  const events: readonly SequenceEvent[] = [
    { type: "clear-called", seenBy: by },
    { type: "clear-called", seenBy: STRANGER },
    { type: "approach-called", person: crew.installer },
    { type: "approach-called", person: STRANGER },
    { type: "discharge-agreed", person: "p", words: "yes" },
    { type: "discharge-agreed", person: by, words: "yes" },
    ...back.map((to) => ({ type: "back-called", to, why: "again" }) as const),
    // A log from elsewhere may name a place that there is no way back to.
    { type: "back-called", to: "charging" as BackTarget, why: "again" },
    { type: "unresolved-declared", why: "jammed" },
    { type: "unresolved-ended", person: "p", evidence: "seen", done: "vented" },
    { type: "unresolved-ended", person: by, evidence: "seen", done: "vented" },
    { type: "scrub-called", why: "rain" },
    // A person never takes a second role that must be another's.
    { type: "signed-on", person: crew.installer, role: "verifier" },
    { type: "signed-on", person: crew.verifier, role: "conductor" },
  ];
  return [
    ...events.map((event): Move => ({ event, by })),
    ...[...new Map(pairs.map((pair) => [pair.join(), pair])).values()].map(
      ([first, second]): Move => ({
        event: { type: "hold-cleared", with: second, why: "put right" },
        by: first,
      }),
    ),
  ];
};

/** All that is tried in a state: each thing that can be said there, the good way, the bad way and out of turn. */
export const movesIn = (docs: Documents, state: string, options: MoveOptions): readonly Move[] => [
  ...calls(options.crew, state, options.outOfTurn),
  ...stepMoves(docs, options.crew, state, options.outOfTurn),
  ...lookMoves(docs, options.crew, state),
  ...words(options.crew),
  ...options.relief.map((event): Move => ({ event, by: options.crew.conductor })),
  ...reports(docs, options),
];

/** What leads on from a state, tried by whoever it belongs to. */
export const waysOn = (docs: Documents, state: string, crew: Crew): readonly Move[] => [
  ...calls(crew, state, false).filter(({ by }) => by === crew.conductor),
  { event: { type: "approach-called", person: crew.installer }, by: crew.conductor },
  ...stepMoves(docs, crew, state, false).filter(({ event }) => event.type === "step-done"),
  ...lookMoves(docs, crew, state),
];

export const signOns = (crew: Crew): readonly Move[] =>
  Object.entries(crew).map(([role, person]) => ({
    event: { type: "signed-on", person, role: role as keyof Crew },
    by: person,
  }));

export const actOf = (move: Move, seq: number, now: Pick<Act, "at" | "mono" | "session">): Act => ({
  ...now,
  seq,
  ...move,
});
