import type { MatrixPlan } from "../../core/plan/test-matrix.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import { shortNumber } from "../../core/units/value-text.ts";
import { typedNumber } from "../widgets/quantity-field.tsx";

/** A matrix as somebody types it: lists with blanks or semicolons between, in the reader's units. */
export type MatrixDraft = {
  readonly water: string;
  readonly pressure: string;
  readonly replicates: string;
  readonly crews: string;
  readonly seed: number;
};

export type Scales = { readonly water: number; readonly pressure: number };

/**
 * @fails level-unreadable, replicates-unreadable: every one of them; what the levels mean is for `testMatrix`
 */
export function readDraft(draft: MatrixDraft, scales: Scales): Result<MatrixPlan> {
  const issues: Issue[] = [];
  const water_kg = readLevels(draft.water, "water_kg", scales.water, issues);
  const setPressure_Pa = readLevels(draft.pressure, "setPressure_Pa", scales.pressure, issues);
  const replicates = typedNumber(draft.replicates);
  if (typeof replicates !== "number") {
    const remedy = "give a whole number, 2 or more to learn how well runs repeat";
    issues.push(issue("replicates-unreadable", "replicates", `"${draft.replicates}" is no number`, remedy));
  }
  if (issues.length > 0) return failed(...issues);
  const crews = draft.crews.split(/[\s;,]+/).filter((crew) => crew !== "");
  return ok({ water_kg, setPressure_Pa, replicates: replicates as number, crews, seed: draft.seed });
}

/** The plan as it would be typed, for a form that opens on a saved one. */
export function draftOf(plan: MatrixPlan, scales: Scales): MatrixDraft {
  const list = (values: readonly number[], scale: number) =>
    values.map((value) => shortNumber(value / scale, 4)).join(" ");
  return {
    water: list(plan.water_kg, scales.water),
    pressure: list(plan.setPressure_Pa, scales.pressure),
    replicates: String(plan.replicates),
    crews: plan.crews.join(" "),
    seed: plan.seed,
  };
}

function readLevels(text: string, where: string, scale: number, issues: Issue[]): readonly number[] {
  const words = text.split(/[\s;]+/).filter((word) => word !== "");
  return words.flatMap((word) => {
    const level = typedNumber(word);
    // Scaled and rounded, so that 2.5 bar is 250000 Pa and not a digit beside it.
    if (typeof level === "number") return [Number((level * scale).toPrecision(9))];
    const remedy = "write levels with blanks between, such as 450 600 750";
    issues.push(issue("level-unreadable", where, `"${word}" is no number`, remedy));
    return [];
  });
}
