import type { Step } from "../procedure.ts";
import { allSteps, type Finding, type LintRule } from "./rule.ts";
import { isVerb, OPERATING_VERBS, VAGUE, wordsOf } from "./words.ts";

type Fault = Omit<Finding, "where">;

/** “If the line drips, shut the valve”: the condition first, then the act. */
const actOf = (text: string): string => text.replace(/^if\b[^,:]*[,:]\s*(?:then\s+)?/i, "");

const firstWord = (text: string): Fault | undefined => {
  const [first = ""] = wordsOf(actOf(text));
  return isVerb(first)
    ? undefined
    : {
        detail: `it starts with “${first}”, not with what to do`,
        remedy: "Start with the verb: Shut, Read, Look.",
      };
};

/** A second operating verb after a comma, “and” or “then” is a second act; a look at its end is not. */
const secondAct = (text: string): Fault | undefined => {
  const second = [...actOf(text).matchAll(/(?:[,;]|\band\b|\bthen\b)\s+(?:and\s+|then\s+)*(\p{L}+)/giu)]
    .map(([, word = ""]) => word.toLowerCase())
    .find((word) => OPERATING_VERBS.has(word));
  return second === undefined
    ? undefined
    : { detail: `“${second}” is a second act`, remedy: "Make it a step of its own." };
};

const vagueWord = (text: string): Fault | undefined => {
  const [found] = VAGUE.exec(text) ?? [];
  return found === undefined
    ? undefined
    : { detail: `“${found}” leaves open what to do`, remedy: "Say what is done, and how its end is seen." };
};

const lateCondition = (text: string): Fault | undefined =>
  /\S\s+(?:if|unless)\b/i.test(actOf(text))
    ? {
        detail: "the condition comes after the act",
        remedy: "Put it first: If the line drips, shut the supply.",
      }
    : undefined;

const faultsOf = ({ text }: Step): readonly Fault[] =>
  [firstWord(text), secondAct(text), vagueWord(text), lateCondition(text)].filter(
    (fault) => fault !== undefined,
  );

export const oneAct: LintRule = {
  id: "one-act",
  number: "L23",
  severity: "W",
  title: "A step is one act, verb first, condition before it, nothing left open",
  source: "advanced procedure writer's guide (read); DOE-STD-1029-92 (remembered)",
  deviation: "may be accepted",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step, where }) =>
      faultsOf(step).map((fault) => ({ where: `${where}.text`, ...fault })),
    ),
};
