import { allSteps, type LintRule } from "./rule.ts";
import { OPERATING_VERBS, wordsOf } from "./words.ts";

const startsWithAct = (text: string): string | undefined =>
  text
    .split(/[.;:!]/)
    .map((sentence) => wordsOf(sentence)[0] ?? "")
    .find((word) => OPERATING_VERBS.has(word));

export const warningHoldsNoAction: LintRule = {
  id: "warning-holds-no-action",
  number: "L22",
  severity: "W",
  title: "A warning holds no action, and no step sends the reader to a warning elsewhere",
  source: "ANSI Z535.4 (read); DOE-STD-1029-92 §4 (remembered)",
  deviation: "may be accepted",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step, where }) => {
      const { warning } = step;
      const act = warning && [warning.hazard, warning.result, warning.avoid].map(startsWithAct).find(Boolean);
      return [
        ...(act
          ? [
              {
                where: `${where}.warning`,
                detail: `“${act}…” is an act inside a warning`,
                remedy: "Make it a step of its own before this one.",
              },
            ]
          : []),
        ...(/\bsee (?:the )?(?:warning|caution|danger|notice)\b/i.test(step.text)
          ? [
              {
                where: `${where}.text`,
                detail: "it sends the reader to a warning elsewhere",
                remedy: "Put the warning on this step.",
              },
            ]
          : []),
      ];
    }),
};
