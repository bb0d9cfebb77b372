import {
  PHASES,
  type PhaseId,
  type Procedure,
  type Step,
  type StepForm,
} from "../../core/procedure/procedure.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { FactId } from "../../core/sequence/facts.ts";
import type { Role } from "../../core/sequence/roles.ts";

/** SYNTHETIC. The smallest stand and procedures on which everything in the sequence can still happen. */

export type Emptying = Rig["emptying"]["kind"];

const MARKS = ["A", "B", "C", "D"] as const;

export type SmallRig = {
  readonly restraints: 1 | 2 | 3 | 4;
  readonly emptying: Emptying;
  /** Beside the one that the vent's evidence asks for: a bottle may have a gauge and no vent. */
  readonly bottleGauge?: boolean;
};

export const smallRig = (options: SmallRig): Rig => ({
  format: "fourfast-rig",
  version: 1,
  id: `small-${options.emptying}-${options.restraints}`,
  name: "Small",
  letter: "S",
  owner: "Larkmoor College",
  synthetic: true,
  bottle: { capacity_m3: 1.5e-3, capacityU_m3: 1e-5, limit_Pa: 5e5, shotsSoFar: 0, shotsAllowed: 10 },
  opening: { diameter_m: 0.0217 },
  fill: { water_kg: 0.6, tolerance_kg: 0.01 },
  pressure: { set_Pa: 3e5, tolerance_Pa: 1e4 },
  restraints: MARKS.slice(0, options.restraints).map((id, index) => ({
    id,
    mark: id,
    kind: "latch",
    at: { x: index, y: 0 },
  })),
  pull: { force_N: 100, direction: "up" },
  ridingMass_kg: 0.5,
  emptying:
    options.emptying === "vent"
      ? { kind: "vent", lineGauge: "line", bottleGauge: "bottle", evidence: "both gauges at zero" }
      : { kind: "release", evidence: "the opening free and silent" },
  gauges: [
    gauge("supply", "supply", 16e5),
    gauge("line", "line", 6e5),
    ...(options.bottleGauge || options.emptying === "vent" ? [gauge("bottle", "bottle", 6e5)] : []),
  ],
  oneWayValveOpens_Pa: 1e4,
  supply: {
    kind: "tank",
    volume_m3: 0.01,
    full_Pa: 8e5,
    workingMin_Pa: 4e5,
    workingMax_Pa: 1e6,
    gauge: "supply",
  },
  channels: [],
  calibratedTogether: true,
  limits: {
    zeroToRelease_s: 5,
    clearBeforeZero_s: 15,
    clearBeforeAir_s: 120,
    timeAtPressure_s: 600,
    zeros: 2,
    pulls: 2,
    waitAfterRelease_s: 10,
    waitAfterDoubt_s: 60,
    gaugesAgree_Pa: 2e4,
  },
  places: [],
  sectors: [],
  parts: [],
  service: { in: true },
  responsible: ["p"],
});

const gauge = (id: string, side: Rig["gauges"][number]["side"], max: number): Rig["gauges"][number] => ({
  id,
  name: id,
  side,
  place: "line",
  unit: "bar",
  range_Pa: { min: 0, max },
  zeroWithin_Pa: 5e3,
});

const ACT: StepForm = { kind: "act" };
const LOOK: StepForm = {
  kind: "look",
  answers: [
    { text: "yes", good: true },
    { text: "no", good: false },
  ],
};
const pressure = (instrument: string, min: number, max: number): StepForm => ({
  kind: "measure",
  quantity: "pressure",
  unit: "bar",
  instrument,
  band: { min, max },
});
const WATER: StepForm = {
  kind: "measure",
  quantity: "water",
  unit: "kg",
  instrument: "scale",
  band: { min: 0.59, max: 0.61 },
};

const step = (id: string, role: Role, form: StepForm, ...proves: readonly FactId[]): Step => ({
  id,
  text: `Do ${id}.`,
  form,
  role,
  place: "line",
  proves,
  skippable: false,
  hazards: [],
  takes_s: 5,
});

const RESTRAINING: readonly Step[] = [
  step("close-all", "installer", ACT),
  step("first-looks", "installer", { kind: "each-restraint", round: 1 }, "first-look"),
  step("pull", "installer", ACT, "pull-tested"),
  step("second-looks", "verifier", { kind: "each-restraint", round: 2 }, "second-look"),
];

const makingSafe = (rig: Rig): readonly Step[] => [
  step("shut-supply", "installer", ACT, "supply-isolated"),
  ...(rig.emptying.kind === "vent"
    ? [
        step("line-zero", "installer", pressure(rig.emptying.lineGauge, 0, 5e3), "line-at-zero"),
        step("bottle-zero", "verifier", pressure(rig.emptying.bottleGauge, 0, 5e3), "bottle-at-zero"),
      ]
    : [step("look-opening", "releaser", LOOK, "opening-silent")]),
];

type Phases = { readonly [P in PhaseId]: readonly Step[] };

const procedure = (rig: Rig, id: string, phases: Phases): Procedure => ({
  format: "fourfast-procedure",
  version: 1,
  id,
  title: id,
  revision: 1,
  forRig: rig.id,
  synthetic: true,
  author: "w",
  approvedBy: "x",
  phases,
  deviations: [],
});

/** Each fact by a step of its own, in every form there is, with a wait, a hold and two that may be skipped. */
export const stepByStep = (rig: Rig): Procedure =>
  procedure(rig, "step-by-step", {
    preparing: [
      step("phone", "conductor", ACT, "phone-ready"),
      step("card", "conductor", ACT, "card-on-site"),
      step("line", "releaser", ACT, "line-set-out"),
      step("bottle", "installer", LOOK, "bottle-fit"),
      step("gauges", "installer", pressure("line", 0, 5e3), "gauges-at-zero"),
      step("comms", "caller", { kind: "say", words: "Do you hear", reply: "I hear" }, "comms-checked"),
    ],
    filling: [
      { ...step("shade", "installer", ACT), skippable: true },
      step("water", "installer", WATER, "water-measured"),
    ],
    sealing: [
      step("dry-run", "installer", ACT, "release-runs-free"),
      step("invert", "installer", { ...LOOK }, "leak-checked"),
      step("watch", "installer", { kind: "wait", seconds: 20 }),
    ],
    mounting: [step("lines", "installer", ACT, "lines-clear"), step("seat", "installer", ACT, "mounted")],
    restraining: RESTRAINING,
    clearing: [
      step("supply", "installer", pressure("supply", 4e5, 10e5), "supply-in-band"),
      step("regulator", "installer", ACT, "regulator-set"),
      step("glasses", "conductor", ACT, "glasses-on"),
      step("sweep", "conductor", ACT, "clear"),
    ],
    charging: [
      step("settle", "installer", { kind: "wait", seconds: 10 }),
      step("gauge", "installer", pressure("line", 2.9e5, 3.1e5), "at-pressure"),
    ],
    charged: [
      step("isolate", "installer", ACT, "supply-isolated"),
      step("leave-post", "installer", ACT, "post-left"),
      {
        ...step("marks", "verifier", LOOK, "restraints-in-view"),
        hold: { kind: "hold", opens: "conductor", evidence: "every mark home", onNo: "make safe" },
      },
    ],
    armed: [
      step("sweep-again", "conductor", ACT, "clear"),
      step("cord", "releaser", ACT, "cord-in-hand"),
      step("indoors", "caller", ACT, "indoors-ready"),
      step("words", "caller", { kind: "say", words: "Zeroed means go", reply: "Go" }, "words-repeated"),
    ],
    "making-safe": makingSafe(rig),
    approaching: [
      step("look-in", "installer", LOOK),
      { ...step("photo", "installer", ACT), skippable: true },
    ],
  });

/**
 * As above, and in each stage a gauge to read and something that may be skipped where that can be:
 * whatever a step can do anywhere, it can do here.
 */
export const everyForm = (rig: Rig): Procedure => {
  const plain = stepByStep(rig);
  const gauge = rig.gauges.findLast(({ side }) => side !== "supply")?.id ?? "line";
  const more = (phase: PhaseId): readonly Step[] => {
    const hot = HOT_PHASES.includes(phase);
    // While making safe only a pointer at zero is good: any other reading is air in the bottle.
    const charged = hot && phase !== "making-safe";
    const form = charged ? pressure(gauge, 2.9e5, 3.1e5) : pressure(gauge, 0, 4e3);
    const glance = step(`glance-${phase}`, "installer", form);
    // Where a bottle is shown empty, the glance comes after that: it may show that it is not.
    const before = phase === "making-safe" ? [] : [glance];
    return [
      ...before,
      ...plain.phases[phase],
      ...(phase === "making-safe" ? [glance] : []),
      ...(hot ? [] : [{ ...step(`extra-${phase}`, "installer", ACT), skippable: true }]),
    ];
  };
  const phases = Object.fromEntries(PHASES.map((phase) => [phase, more(phase)])) as Phases;
  return procedure(rig, "every-form", phases);
};

const HOT_PHASES: readonly PhaseId[] = ["charging", "charged", "armed", "making-safe"];

/**
 * The same facts in as few steps as the table allows: for searches over every state, where what is
 * proved, withdrawn and proved again together counts once.
 */
export const inOneGo = (rig: Rig): Procedure =>
  procedure(rig, "in-one-go", {
    preparing: [
      step(
        "prepare",
        "conductor",
        ACT,
        "phone-ready",
        "card-on-site",
        "line-set-out",
        "bottle-fit",
        "gauges-at-zero",
        "comms-checked",
      ),
    ],
    filling: [step("water", "installer", WATER, "water-measured")],
    sealing: [step("seal", "installer", ACT, "release-runs-free", "leak-checked")],
    mounting: [step("mount", "installer", ACT, "lines-clear", "mounted")],
    restraining: RESTRAINING.slice(1),
    clearing: [
      step("air-ready", "installer", ACT, "supply-in-band", "regulator-set", "glasses-on"),
      step("sweep", "conductor", ACT, "clear"),
    ],
    charging: [step("gauge", "installer", pressure("line", 2.9e5, 3.1e5), "at-pressure")],
    charged: [step("isolate", "installer", LOOK, "supply-isolated", "post-left", "restraints-in-view")],
    armed: [
      step("sweep-again", "conductor", ACT, "clear"),
      step("call", "caller", ACT, "cord-in-hand", "indoors-ready", "words-repeated"),
    ],
    "making-safe": makingSafe(rig),
    approaching: [step("look-in", "installer", LOOK)],
  });
