import { PHASES } from "../procedure.ts";
import { allSteps, type Finding, type LintRule } from "./rule.ts";
import { wordCount } from "./words.ts";

export const MOST_WORDS = 20;
export const MOST_STEPS = 9;
export const MOST_SECONDS = 90;

export const shortLists: LintRule = {
  id: "short-lists",
  number: "L25",
  severity: "W",
  title: `A step has at most ${MOST_WORDS} words, a phase at most ${MOST_STEPS} steps and ${MOST_SECONDS} s`,
  source: "Gawande, The Checklist Manifesto (quoted); CAA CAP 676 (quoted)",
  deviation: "may be accepted",
  check: (procedure) => {
    const long = allSteps(procedure).flatMap(({ step, where }): readonly Finding[] => {
      const count = wordCount(step.text);
      return count <= MOST_WORDS
        ? []
        : [
            {
              where: `${where}.text`,
              detail: `it has ${count} words`,
              remedy: `Cut it to ${MOST_WORDS}; put the reason into "why".`,
            },
          ];
    });
    const lists = PHASES.flatMap((phase): readonly Finding[] => {
      const steps = procedure.phases[phase];
      const takes_s = steps.reduce((sum, step) => sum + step.takes_s, 0);
      const where = `phases.${phase}`;
      return [
        ...(steps.length > MOST_STEPS
          ? [
              {
                where,
                detail: `it has ${steps.length} steps`,
                remedy: "Merge, drop, or move some to a quieter phase.",
              },
            ]
          : []),
        ...(takes_s > MOST_SECONDS
          ? [
              {
                where,
                detail: `it takes ${takes_s} s by its own estimates`,
                remedy: `Past ${MOST_SECONDS} s people start to shorten: move some away.`,
              },
            ]
          : []),
      ];
    });
    return [...long, ...lists];
  },
};
