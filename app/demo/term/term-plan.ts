import { chance } from "./chance.ts";

/** One run of the SYNTHETIC term: what was planned, and what was true that nobody at the stand could see. */
export type TermRun = {
  /** Place in the term, from 0. */
  readonly number: number;
  readonly code: string;
  readonly crew: number;
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
export const waterLevels_kg = [0.45, 0.6, 0.75] as const;
export const pressureLevels_Pa = [250_000, 300_000] as const;
export const crews = 4;

/** Tuesday afternoons of an invented autumn; each crew has one, and tests each cell once: a block. */
const firstAfternoon_ms = Date.UTC(2025, 9, 7, 13, 0);
const week_ms = 7 * 86_400_000;
const slot_ms = 14 * 60_000;
const firstDay = 280;

/** What a crew's way of reading the gauge does, Pa: crew 3 looks at it from the side. */
const crewBias_Pa = [1500, -800, -9000, 600] as const;

const stories: Readonly<Record<number, TermRun["story"]>> = {
  2: "first-look-catch",
  9: "leaked-before-release",
  15: "held-and-cleared",
  20: "step-skipped",
};

/** The 24 runs: three fills by two pressures, each once a crew, in a seeded order within each crew's block. */
export function termPlan(seed: number = termSeed): readonly TermRun[] {
  const luck = chance(seed);
  const runs: TermRun[] = [];
  for (let crew = 0; crew < crews; crew++) {
    const cells = shuffled(
      waterLevels_kg.flatMap((water_kg) => pressureLevels_Pa.map((set_Pa) => ({ water_kg, set_Pa }))),
      luck.next,
    );
    let supply_Pa = 800_000;
    for (const [slot, cell] of cells.entries()) {
      const number = runs.length;
      const story = stories[number];
      const leaked_kg = story === "leaked-before-release" ? 0.07 : 0;
      const water_C = 15.5 + 0.5 * slot + luck.between(-0.2, 0.2);
      runs.push({
        number,
        code: `H-${firstDay + 7 * crew}-${String(slot + 1).padStart(2, "0")}`,
        crew,
        openedAt_ms: firstAfternoon_ms + crew * week_ms + slot * slot_ms,
        ...cell,
        truth: {
          water_kg: cell.water_kg - leaked_kg + 0.002 * luck.normal(),
          pressure_Pa: cell.set_Pa + crewBias_Pa[crew]! + 1800 * luck.normal(),
          water_C,
          exponent: 1.27 - 0.002 * (water_C - 15) + 0.006 * luck.normal(),
          supply_Pa,
        },
        ...(story && { story }),
      });
      // Isothermal between fills; what the bottle and hose take of the tank's 10 L.
      supply_Pa -= (cell.set_Pa * (0.0015 - cell.water_kg / 998 + 50e-6)) / 0.01;
    }
  }
  return runs;
}

function shuffled<T>(list: readonly T[], next: () => number): T[] {
  const mixed = [...list];
  for (let i = mixed.length - 1; i > 0; i--) {
    const j = Math.floor(next() * (i + 1));
    [mixed[i], mixed[j]] = [mixed[j]!, mixed[i]!];
  }
  return mixed;
}
