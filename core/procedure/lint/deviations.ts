import { type Issue, issue } from "../../result.ts";
import type { Deviation, Procedure } from "../procedure.ts";
import { isSamePerson } from "../same-person.ts";
import type { LintRule } from "./rule.ts";

/**
 * A rule of severity E that cannot be met is met by name instead: who accepted it, why, until when.
 * It prints on the card and in the review. Restraint proof, emptying path, making safe and the log
 * have none, and a deviation whose end has passed (or cannot be judged) counts for nothing.
 */

/** `phases.filling[0].text` lies in `phases.filling[0]` and in `phases.filling`. */
export const liesIn = (where: string, place: string): boolean =>
  where === place || where.startsWith(`${place}.`) || where.startsWith(`${place}[`);

const isRunning = ({ until }: Deviation, today: string | undefined): boolean =>
  today !== undefined && today <= until;

const fault = (deviation: Deviation, author: string, rules: readonly LintRule[]): string | undefined => {
  const rule = rules.find(({ id }) => id === deviation.rule);
  if (!rule) return `there is no rule "${deviation.rule}"`;
  if (rule.deviation === "none") return `from "${rule.id}" nobody may deviate`;
  if (isSamePerson(deviation.acceptedBy, author))
    return `"${author}" wrote the procedure and accepted the deviation`;
  return undefined;
};

const isAbout = ({ rule, where }: Deviation, found: Issue): boolean =>
  rule === found.code && liesIn(found.where, where);

export type Weighed = {
  /** What is wrong with the deviations themselves. */
  readonly errors: readonly Issue[];
  readonly notes: readonly Issue[];
  readonly covers: (found: Issue) => boolean;
  /** A finding that was accepted until lately says so. */
  readonly withLapse: (found: Issue) => Issue;
};

/** @param today  ISO date; without it no deviation can be judged, so none counts */
export const weighDeviations = (
  { deviations, author }: Procedure,
  rules: readonly LintRule[],
  found: readonly Issue[],
  today: string | undefined,
): Weighed => {
  const errors: Issue[] = [];
  const notes: Issue[] = [];
  const good: Deviation[] = [];
  const lapsed: Deviation[] = [];
  for (const [at, deviation] of deviations.entries()) {
    const where = `deviations[${at}]`;
    const detail = fault(deviation, author, rules);
    const { rule, acceptedBy, until, why } = deviation;
    if (detail !== undefined)
      errors.push(
        issue("deviation-void", where, detail, "Mend the procedure, or have another person accept it."),
      );
    else if (!isRunning(deviation, today)) {
      lapsed.push(deviation);
      notes.push(
        issue("deviation-lapsed", where, `it ended on ${until}`, "Mend the procedure, or renew it by name."),
      );
    } else if (!found.some((each) => each.code === rule && liesIn(each.where, deviation.where)))
      notes.push(
        issue("deviation-unused", where, `"${rule}" finds nothing in ${deviation.where}`, "Take it out."),
      );
    else {
      good.push(deviation);
      notes.push(
        issue(
          "deviation-accepted",
          where,
          `"${rule}" in ${deviation.where}: accepted by ${acceptedBy} until ${until}, because ${why}`,
          "It prints on the card and in the review.",
        ),
      );
    }
  }
  return {
    errors,
    notes,
    covers: (found) => good.some((each) => isAbout(each, found)),
    withLapse: (found) => {
      const old = lapsed.find((each) => isAbout(each, found));
      return old
        ? {
            ...found,
            detail: `${found.detail} (accepted by ${old.acceptedBy} until ${old.until}, and no longer)`,
          }
        : found;
    },
  };
};
