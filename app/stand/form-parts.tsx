import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { Button } from "../widgets/button.tsx";
import type { Turn } from "./turn.ts";

/** The last row of every form: written down, or not at all. */
export function FormRow({ turn, event, act = "Write it down", by }: RowProps) {
  const write = (tap: Event) => {
    if (!event) return;
    turn.show(undefined);
    void turn.say(event, tap, by);
  };
  return (
    <div class="answer-row">
      <Button look="go" critical disabled={!event} onPress={write}>
        {act}
      </Button>
    </div>
  );
}

type RowProps = {
  readonly turn: Turn;
  readonly event: SequenceEvent | undefined;
  readonly act?: string;
  readonly by?: string;
};

type FieldProps = {
  readonly label: string;
  readonly value: string;
  readonly onInput: (words: string) => void;
};

/** Where a page has no room for more than a line. */
export function LineField({ label, value, onInput }: FieldProps) {
  return (
    <label class="field">
      {label}
      <input maxLength={200} value={value} onInput={(event) => onInput(event.currentTarget.value)} />
    </label>
  );
}

export function WordsField({ label, value, onInput }: FieldProps) {
  return (
    <label class="field">
      {label}
      <textarea
        rows={3}
        maxLength={400}
        value={value}
        onInput={(event) => onInput(event.currentTarget.value)}
      />
    </label>
  );
}
