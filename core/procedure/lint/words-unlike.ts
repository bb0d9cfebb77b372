import { allSteps, type Finding, type LintRule } from "./rule.ts";
import { wordsOf } from "./words.ts";

/** Changes of one letter that make one word of the other. */
const isOneLetterApart = (a: string, b: string): boolean => {
  if (a === b || Math.abs(a.length - b.length) > 1) return false;
  let at = 0;
  while (at < Math.min(a.length, b.length) && a[at] === b[at]) at += 1;
  const rest = (text: string, from: number) => text.slice(from);
  return (
    rest(a, at + 1) === rest(b, at + 1) || rest(a, at) === rest(b, at + 1) || rest(a, at + 1) === rest(b, at)
  );
};

/** Words that carry: long enough to be told from “is” and “the”. */
const carrying = (text: string): readonly string[] => wordsOf(text).filter((word) => word.length >= 4);

const repeatsBack = (words: string, reply: string): boolean => {
  const said = carrying(words);
  return carrying(reply).some((word) => said.includes(word));
};

const faultOf = (words: string, reply: string): Omit<Finding, "where"> | undefined => {
  const [first = "", ...more] = wordsOf(reply);
  if (first === "stop")
    return {
      detail: "the reply begins with “stop”",
      remedy: "“Stop” only ever stops; answer with other words.",
    };
  if (more.length === 0)
    return { detail: `“${reply}” is no repeat-back`, remedy: "Have the words themselves repeated." };
  if (!repeatsBack(words, reply))
    return {
      detail: "the reply repeats none of the words",
      remedy: "Have the words that carry the meaning repeated.",
    };
  return undefined;
};

/** One-word orders are the ones that a shout turns into one another. */
const orders = (text: string): readonly string[] =>
  [...text.matchAll(/[“"]([^”"]+)[”"]/g)]
    .map(([, quoted = ""]) => wordsOf(quoted).join(" "))
    .filter((said) => !said.includes(" "));

export const wordsUnlike: LintRule = {
  id: "words-unlike",
  number: "L20",
  severity: "W",
  title: "Calls are repeated back, in words that cannot be taken for one another; “stop” only stops",
  source: "DOE-STD-1031-92 §4.1.2.3-4 (read)",
  deviation: "may be accepted",
  check: (procedure) => {
    const said = allSteps(procedure).flatMap(({ step, where }) =>
      step.form.kind === "say" ? [{ ...step.form, where }] : [],
    );
    const quoted = said.flatMap(({ words, where }) => orders(words).map((order) => ({ order, where })));
    return [
      ...said.flatMap(({ words, reply, where }) => {
        const fault = faultOf(words, reply);
        return fault ? [{ where: `${where}.form.reply`, ...fault }] : [];
      }),
      ...quoted.flatMap(({ order, where }, at) =>
        quoted
          .slice(0, at)
          .filter((other) => isOneLetterApart(other.order, order))
          .map((other) => ({
            where: `${where}.form.words`,
            detail: `“${order}” sounds like “${other.order}”`,
            remedy: "Choose words that differ in more than a letter.",
          })),
      ),
    ];
  },
};
