import type { Issue } from "../../result.ts";
import type { Rig } from "../../rig/rig.ts";
import type { Procedure } from "../procedure.ts";
import { weighDeviations } from "./deviations.ts";
import type { LintRule, Severity } from "./rule.ts";
import { LINT_RULES } from "./rules.ts";

export type Linted = {
  /** The procedure cannot start a run. */
  readonly errors: readonly Issue[];
  /** Whoever approves the procedure accepts these by name. */
  readonly warnings: readonly Issue[];
  readonly notes: readonly Issue[];
};

const findingsOf = (
  rules: readonly LintRule[],
  procedure: Procedure,
  rig: Rig | undefined,
): readonly Issue[] =>
  rules.flatMap(({ id, check }) => check(procedure, rig).map((finding) => ({ code: id, ...finding })));

const NOT_APPROVED = {
  code: "not-approved",
  where: "approvedBy",
  detail: "nobody has approved this procedure yet",
  remedy: "Somebody other than its author reads it, with these findings, and approves it.",
};

/**
 * Everything that is wrong with a procedure, by rule.
 * @param rig    without it the rules about the rig's numbers have nothing to say
 * @param today  ISO date, against which deviations lapse; without it none counts
 */
export const lintProcedure = (procedure: Procedure, rig?: Rig, today?: string): Linted => {
  const of = (severity: Severity) =>
    findingsOf(
      LINT_RULES.filter((rule) => rule.severity === severity),
      procedure,
      rig,
    );
  const [errors, warnings, notes] = [of("E"), of("W"), of("N")];
  const deviations = weighDeviations(procedure, LINT_RULES, [...errors, ...warnings], today);
  const open = (found: readonly Issue[]) =>
    found.filter((each) => !deviations.covers(each)).map((each) => deviations.withLapse(each));
  return {
    errors: [...open(errors), ...deviations.errors],
    warnings: open(warnings),
    notes: [...notes, ...deviations.notes, ...(procedure.approvedBy === undefined ? [NOT_APPROVED] : [])],
  };
};
