import { type MatrixPlan, type Slot, testMatrix } from "../../../core/plan/test-matrix.ts";
import { type Chance, chance } from "./chance.ts";

/** One run of the SYNTHETIC term: what was planned, and what was true that nobody at the stand could see. */
export type TermRun = {
  /** Place in the term, from 0. */
  readonly number: number;
  readonly code: string;
  /** Code of the crew: the letter that its people's codes begin with. */
  readonly crew: string;
  /** When it was opened. */
  readonly openedAt_ms: number;
  readonly water_kg: number;
  readonly set_Pa: number;
  readonly truth: {
    readonly water_kg: number;
    readonly pressure_Pa: number;
    readonly water_C: number;
    readonly exponent: number;
    readonly supply_Pa: number;
  };
  /** What the crew wrote into the log beside the nominal, if anything. */
  readonly story?: "first-look-catch" | "held-and-cleared" | "leaked-before-release" | "step-skipped";
};

export const termSeed = 20_251_014;

/** What was planned: each of four crews tests every cell once, on an afternoon of its own. */
export const termMatrix: MatrixPlan = {
  water_kg: [0.45, 0.6, 0.75],
  setPressure_Pa: [250_000, 300_000],
  replicates: 4,
  crews: ["P", "Q", "R", "S"],
  seed: termSeed,
};

/** Tuesday afternoons of an invented autumn. */
const firstAfternoon_ms = Date.UTC(2025, 9, 7, 13, 0);
const week_ms = 7 * 86_400_000;
const slot_ms = 14 * 60_000;
const firstDay = 280;

/** What a crew's way of reading the gauge does, Pa: crew R looks at it from the side. */
const crewBias_Pa: Readonly<Record<string, number>> = { P: 1500, Q: -800, R: -9000, S: 600 };

const stories: Readonly<Record<number, TermRun["story"]>> = {
  2: "first-look-catch",
  9: "leaked-before-release",
  15: "held-and-cleared",
  20: "step-skipped",
};

/** The 24 runs of the matrix in the order of the term, each with what the day made of it. */
export function termPlan(): readonly TermRun[] {
  const matrix = testMatrix(termMatrix);
  if (!matrix.ok) throw new Error(matrix.issues.map(({ detail }) => detail).join("; "));
  const luck = chance(termSeed);
  return termMatrix.crews.flatMap((crew, afternoon) => {
    const slots = matrix.value.slots.filter((slot) => slot.crew === crew);
    let supply_Pa = 800_000;
    return slots.map((slot, place): TermRun => {
      const run = { ...placed(slot, afternoon, place), truth: { ...truthOf(slot, place, luck), supply_Pa } };
      // Isothermal between fills; what the bottle and hose take of the tank's 10 L.
      supply_Pa -= (slot.setPressure_Pa * (0.0015 - slot.water_kg / 998 + 50e-6)) / 0.01;
      return run;
    });
  });
}

function placed({ order, crew, water_kg, setPressure_Pa }: Slot, afternoon: number, place: number) {
  const story = stories[order - 1];
  return {
    number: order - 1,
    code: `H-${firstDay + 7 * afternoon}-${String(place + 1).padStart(2, "0")}`,
    crew,
    openedAt_ms: firstAfternoon_ms + afternoon * week_ms + place * slot_ms,
    water_kg,
    set_Pa: setPressure_Pa,
    ...(story && { story }),
  };
}

function truthOf({ order, crew, water_kg, setPressure_Pa }: Slot, place: number, luck: Chance) {
  const leaked_kg = stories[order - 1] === "leaked-before-release" ? 0.07 : 0;
  const water_C = 15.5 + 0.5 * place + luck.between(-0.2, 0.2);
  return {
    water_kg: water_kg - leaked_kg + 0.002 * luck.normal(),
    pressure_Pa: setPressure_Pa + (crewBias_Pa[crew] ?? 0) + 1800 * luck.normal(),
    water_C,
    exponent: 1.27 - 0.002 * (water_C - 15) + 0.006 * luck.normal(),
  };
}
