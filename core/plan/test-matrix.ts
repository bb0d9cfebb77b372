import { failed, issue, ok, type Result } from "../result.ts";
import { randomFrom, shuffled } from "./random.ts";

export type MatrixPlan = {
  readonly water_kg: readonly number[];
  /** Gauge. */
  readonly setPressure_Pa: readonly number[];
  /** Times that every level is run, over all crews together. */
  readonly replicates: number;
  /** Codes, in the order in which crews come to the stand. */
  readonly crews: readonly string[];
  /** Drawn by whoever plans and kept with the plan: the same seed gives the same order. */
  readonly seed: number;
};

export type Slot = {
  /** Place in the queue, from 1. */
  readonly order: number;
  readonly crew: string;
  /** From 1; a block is every level once, run by one crew. */
  readonly block: number;
  readonly water_kg: number;
  readonly setPressure_Pa: number;
};

export type TestMatrix = {
  readonly plan: MatrixPlan;
  readonly slots: readonly Slot[];
  /** Every crew runs as many blocks as any other: only then does a crew's habit not pass for an effect of fill. */
  readonly balanced: boolean;
};

/**
 * Which runs to make, in which order: a complete block for each replicate, blocks dealt to the
 * crews in turn, levels in random order within each. Random, so that what drifts over a day (the
 * supply sags, the water warms) does not line up with fill or pressure; blocked, so that what
 * differs between crews can be told from both.
 * @fails list-empty, level-repeated, value-not-positive, replicates-not-whole
 */
export function testMatrix(plan: MatrixPlan): Result<TestMatrix> {
  const issues = [
    ...checkLevels("water_kg", plan.water_kg),
    ...checkLevels("setPressure_Pa", plan.setPressure_Pa),
    ...checkCrews(plan.crews),
  ];
  if (!(Number.isInteger(plan.replicates) && plan.replicates >= 1)) {
    const remedy = "give a whole number of replicates, 1 or more";
    issues.push(issue("replicates-not-whole", "replicates", `found ${plan.replicates}`, remedy));
  }
  if (issues.length > 0) return failed(...issues);

  const random = randomFrom(plan.seed);
  const levels = plan.setPressure_Pa.flatMap((setPressure_Pa) =>
    plan.water_kg.map((water_kg) => ({ water_kg, setPressure_Pa })),
  );
  const slots: Slot[] = [];
  for (let block = 1; block <= plan.replicates; block++) {
    const crew = plan.crews[(block - 1) % plan.crews.length]!;
    for (const level of shuffled(levels, random))
      slots.push({ order: slots.length + 1, crew, block, ...level });
  }
  return ok({ plan, slots, balanced: plan.replicates % plan.crews.length === 0 });
}

/** A run as it was made, from the log: what was weighed and read, and by which crew. */
export type DoneRun = {
  readonly code: string;
  readonly crew: string;
  readonly water_kg: number;
  readonly setPressure_Pa: number;
};

/** How far a run may be from a level and still count for it. */
export type MatrixTolerance = { readonly water_kg: number; readonly setPressure_Pa: number };

export type MatrixProgress = {
  readonly toRun: readonly Slot[];
  readonly done: readonly { readonly slot: Slot; readonly code: string }[];
  /** Runs that fill no open slot: another level, or one too many. They stay data; the matrix does not count them. */
  readonly beside: readonly DoneRun[];
};

/**
 * What is still to run. Each run fills the first open slot of its own crew and level; a run of a
 * crew that has no such slot left fills nothing, since that would undo the blocking.
 */
export function matrixProgress(
  matrix: TestMatrix,
  runs: readonly DoneRun[],
  tolerance: MatrixTolerance,
): MatrixProgress {
  const open = new Set(matrix.slots);
  const done: { slot: Slot; code: string }[] = [];
  const beside: DoneRun[] = [];
  for (const run of runs) {
    const fits = (slot: Slot) =>
      slot.crew === run.crew &&
      Math.abs(slot.water_kg - run.water_kg) <= tolerance.water_kg &&
      Math.abs(slot.setPressure_Pa - run.setPressure_Pa) <= tolerance.setPressure_Pa;
    const slot = [...open].find(fits);
    if (slot === undefined) beside.push(run);
    else {
      open.delete(slot);
      done.push({ slot, code: run.code });
    }
  }
  return { toRun: [...open], done, beside };
}

function checkLevels(where: string, levels: readonly number[]) {
  if (levels.length === 0)
    return [issue("list-empty", where, "no level is given", "give at least one level")];
  const issues = [];
  for (const [i, level] of levels.entries()) {
    if (!(Number.isFinite(level) && level > 0)) {
      issues.push(issue("value-not-positive", `${where}[${i}]`, `found ${level}`, "give a level above 0"));
    }
    if (levels.indexOf(level) !== i) {
      issues.push(
        issue("level-repeated", `${where}[${i}]`, `${level} is there twice`, "raise the replicates instead"),
      );
    }
  }
  return issues;
}

function checkCrews(crews: readonly string[]) {
  if (crews.length === 0) return [issue("list-empty", "crews", "no crew is given", "name at least one crew")];
  return crews.flatMap((crew, i) =>
    crews.indexOf(crew) === i
      ? []
      : [issue("level-repeated", `crews[${i}]`, `${crew} is there twice`, "name each crew once")],
  );
}
