import type { ShotSetup } from "../exchange/setup-shot.ts";
import { performanceOf } from "../propulsion/performance.ts";
import { shotOf } from "../propulsion/shot.ts";
import { failed, issue, ok, type Result } from "../result.ts";

/**
 * What to make the most of. They disagree, so they are never added up: impulse wants about half a
 * bottle of water, specific impulse as little as there may be, and jet energy something between.
 */
export const objectives = ["impulse_Ns", "specificImpulse_s", "jetEnergy_J"] as const;
export type Objective = (typeof objectives)[number];

export type FillRange = { readonly least_kg: number; readonly greatest_kg: number };

export type FillOptimum = {
  readonly objective: Objective;
  readonly water_kg: number;
  readonly value: number;
  /** "inside": a true maximum. At an end, the range decides and not the physics. */
  readonly at: "inside" | "least" | "greatest";
  /** What being off by a tenth or a fifth of this fill costs, as a fraction of the value; inside the bottle only. */
  readonly cost: readonly { readonly relativeFill: number; readonly loss: number }[];
};

/**
 * Best fill at the setup's pressure, for one objective.
 * @param range  fills that may be used; both ends above 0 and inside the bottle
 * @fails fill-range-empty, fill-outside-bottle
 * @source docs/model.md#optimum; checked in tests/reference/plan-optimum.reference.test.ts
 */
export function fillOptimum(setup: ShotSetup, objective: Objective, range: FillRange): Result<FillOptimum> {
  const full_kg = setup.bottleVolume_m3 * setup.waterDensity_kg_m3;
  const refused = checkRange(range, full_kg);
  if (refused.length > 0) return failed(...refused);
  const value = (water_kg: number) => objectiveAt(setup, water_kg, objective);

  // A grid first: where water is left behind the curve has a corner, and a search alone could stop at it.
  const grid = 64;
  const fillAt = (i: number) => range.least_kg + ((range.greatest_kg - range.least_kg) * i) / grid;
  let best = 0;
  for (let i = 1; i <= grid; i++) if (value(fillAt(i)) > value(fillAt(best))) best = i;
  const water_kg = goldenSection(value, fillAt(Math.max(best - 1, 0)), fillAt(Math.min(best + 1, grid)));

  const [low, top, high] = [value(range.least_kg), value(water_kg), value(range.greatest_kg)];
  const at = low >= top ? "least" : high >= top ? "greatest" : "inside";
  const chosen_kg = at === "least" ? range.least_kg : at === "greatest" ? range.greatest_kg : water_kg;
  const chosen = value(chosen_kg);
  const cost = [-0.2, -0.1, 0.1, 0.2]
    .filter((off) => chosen_kg * (1 + off) < full_kg)
    .map((off) => ({ relativeFill: off, loss: 1 - value(chosen_kg * (1 + off)) / chosen }));
  return ok({ objective, water_kg: chosen_kg, value: chosen, at, cost });
}

function objectiveAt(setup: ShotSetup, water_kg: number, objective: Objective): number {
  const performance = performanceOf(shotOf({ ...setup, water_kg }));
  if (objective === "jetEnergy_J") return performance.water.jetEnergy_J;
  return performance[objective] ?? Number.NEGATIVE_INFINITY;
}

/** Maximum of a function with a single one between a and b, to 1e-8 of the interval: the value is then exact. */
function goldenSection(f: (x: number) => number, a: number, b: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [left, right] = [a, b];
  let inner = right - ratio * (right - left);
  let outer = left + ratio * (right - left);
  let [fInner, fOuter] = [f(inner), f(outer)];
  for (let step = 0; step < 40; step++) {
    if (fInner > fOuter) {
      [right, outer, fOuter] = [outer, inner, fInner];
      inner = right - ratio * (right - left);
      fInner = f(inner);
    } else {
      [left, inner, fInner] = [inner, outer, fOuter];
      outer = left + ratio * (right - left);
      fOuter = f(outer);
    }
  }
  return (left + right) / 2;
}

function checkRange({ least_kg, greatest_kg }: FillRange, full_kg: number) {
  const issues = [];
  if (!(least_kg > 0 && least_kg < greatest_kg)) {
    const detail = `from ${least_kg} kg to ${greatest_kg} kg`;
    issues.push(
      issue("fill-range-empty", "range", detail, "give a least fill above 0 and a greatest above that"),
    );
  }
  if (!(greatest_kg < full_kg)) {
    const detail = `${greatest_kg} kg where the bottle holds ${full_kg.toPrecision(4)} kg`;
    issues.push(issue("fill-outside-bottle", "range.greatest_kg", detail, "leave room for air"));
  }
  return issues;
}
