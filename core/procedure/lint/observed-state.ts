import { isCritical, type Step } from "../procedure.ts";
import { allSteps, type Finding, type LintRule, type Placed } from "./rule.ts";
import { EMPTY_ANSWER } from "./words.ts";

const lookFaults = ({ step, where }: Placed): readonly Finding[] => {
  if (step.form.kind !== "look") return [];
  const { answers } = step.form;
  const texts = answers.map(({ text }) => text.trim().toLowerCase());
  const found: Finding[] = answers.flatMap(({ text }, at) =>
    EMPTY_ANSWER.test(text.trim())
      ? [
          {
            where: `${where}.form.answers[${at}]`,
            detail: `“${text}” says that something was done, not what is seen`,
            remedy: "Name the state: “both handles across the line”.",
          },
        ]
      : [],
  );
  if (new Set(texts).size < texts.length)
    found.push({
      where: `${where}.form.answers`,
      detail: "two answers have the same words",
      remedy: "Give each its own.",
    });
  if (!answers.some(({ good }) => good))
    found.push({
      where: `${where}.form.answers`,
      detail: "no answer lets the run go on",
      remedy: "Mark the state that is wanted as good.",
    });
  if (isCritical(step) && answers.every(({ good }) => good))
    found.push({
      where: `${where}.form.answers`,
      detail: "a critical look has no bad answer",
      remedy: "Add what may be seen instead: part closed, open, cannot see.",
    });
  return found;
};

const formFault = ({ form }: Step): string | undefined => {
  if (form.kind === "act") return "an act that proves a fact is only a tick";
  if (form.kind === "wait") return "a wait shows nothing by itself";
  if (form.kind !== "measure") return undefined;
  const { min, max, of } = form.band;
  if (min === undefined && max === undefined && of === undefined)
    return "a reading without a band accepts any number";
  return undefined;
};

export const observedState: LintRule = {
  id: "observed-state",
  number: "L5",
  severity: "E",
  title: "A critical step is answered by the state or value seen, with a bad answer to choose",
  source: "NASA CR-177549 App. A (4) (quoted); FAA AC 120-71B §5.4 (quoted)",
  deviation: "may be accepted",
  check: (procedure) =>
    allSteps(procedure).flatMap((placed) => {
      const fault = isCritical(placed.step) ? formFault(placed.step) : undefined;
      return fault === undefined
        ? lookFaults(placed)
        : [
            {
              where: `${placed.where}.form`,
              detail: fault,
              remedy: "Use a look with its states, a measure with its band, or a say with its reply.",
            },
          ];
    }),
};
