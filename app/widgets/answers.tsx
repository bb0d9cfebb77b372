import type { ComponentChildren } from "preact";
import { Button } from "./button.tsx";

export type AnswerChoice<T extends string> = {
  readonly id: T;
  readonly text: string;
  readonly good: boolean;
};

type Props<T extends string> = {
  readonly answers: readonly AnswerChoice<T>[];
  readonly onAnswer: (id: T, tap: Event) => void;
  /** Drawn in the place that three findings leave empty. */
  readonly picture?: ComponentChildren;
};

/**
 * The state seen, from a list: none preselected, all drawn alike, and one tap each. What leads on
 * stands alone at the bottom, parted from the findings above by a rule and a double gap, so that a
 * finger that misses a finding does not land on it (SAFETY A1; head section: never adjacent).
 */
export function Answers<T extends string>({ answers, onAnswer, picture }: Props<T>) {
  const set = (good: boolean) =>
    answers
      .filter((answer) => answer.good === good)
      .map(({ id, text }) => (
        <Button key={id} critical onPress={(tap) => onAnswer(id, tap)}>
          {text}
        </Button>
      ));
  return (
    <fieldset class="answers">
      <legend class="unseen">What do you see?</legend>
      <div class="answers-found">
        {set(false)}
        {picture}
      </div>
      <div class="answers-good">{set(true)}</div>
    </fieldset>
  );
}
