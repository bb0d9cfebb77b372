import { allSteps, type LintRule } from "./rule.ts";
import { SAME_THING, wordsOf } from "./words.ts";

const singular = (word: string): string => word.replace(/(?:’s|'s)$/, "").replace(/(?<=ch)es$|(?<!s)s$/, "");

export const oneWordPerThing: LintRule = {
  id: "one-word-per-thing",
  number: "L23",
  severity: "W",
  title: "One thing has one word",
  source: "advanced procedure writer's guide (read)",
  deviation: "may be accepted",
  check: (procedure) =>
    SAME_THING.flatMap((group) => {
      const used = allSteps(procedure).flatMap(({ step, where }) =>
        wordsOf(step.text)
          .map(singular)
          .filter((word) => group.includes(word))
          .map((word) => ({ word, where })),
      );
      const [first] = used;
      return used
        .filter(({ word }) => word !== first?.word)
        .map(({ word, where }) => ({
          where: `${where}.text`,
          detail: `“${word}” here, “${first?.word}” in ${first?.where}`,
          remedy: "Use one word throughout, the one on the rig.",
        }));
    }),
};
