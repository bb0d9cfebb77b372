import type { Step } from "../../../../../core/procedure/procedure.ts";
import type { Draft, Mutable } from "../break.ts";

/** For each rule the faults it is there for: what is changed in the shipped procedure, and where it is found. */
export type RuleCase = {
  readonly fails: string;
  readonly because: string;
  readonly change: (draft: Draft) => void;
  readonly at: readonly string[];
  /** On Kingfisher instead of Heron. */
  readonly vent?: true;
};

export const look = (...answers: readonly [string, boolean][]): Mutable<Step>["form"] => ({
  kind: "look",
  answers: answers.map(([text, good]) => ({ text, good })),
});
export const onForm = <K extends Step["form"]["kind"]>(
  step: Mutable<Step>,
  kind: K,
  change: (form: Extract<Mutable<Step>["form"], { kind: K }>) => void,
): void => {
  if (step.form.kind !== kind) throw new Error(`${step.id} is no ${kind}`);
  change(step.form as Extract<Mutable<Step>["form"], { kind: K }>);
};
export const bandOf = (
  step: Mutable<Step>,
  band: { min?: number; max?: number; of?: "water" | "pressure" },
) =>
  onForm(step, "measure", (form) => {
    form.band = band;
  });
