import { useState } from "preact/hooks";
import { findStep } from "../../core/procedure/procedure.ts";
import type { SkipReason } from "../../core/sequence/vocabulary.ts";
import { SKIP_REASON } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import { FormRow, WordsField } from "./form-parts.tsx";
import type { Turn } from "./turn.ts";

const REASONS = Object.keys(SKIP_REASON) as SkipReason[];

/** A skip costs a little and is seen: a kind of reason, words, and a second person's own code (SAFETY A25). */
export function SkipPanel({ turn, step }: { readonly turn: Turn; readonly step: string }) {
  const [reason, setReason] = useState<SkipReason>();
  const [words, setWords] = useState("");
  const [agreedBy, setAgreedBy] = useState("");
  const ready = reason !== undefined && words.trim() !== "" && agreedBy !== "";
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Skip: {findStep(turn.view.procedure, step)?.step.text}
      </h1>
      <div class="choices">
        {REASONS.map((one) => (
          <Button key={one} pressed={one === reason} onPress={() => setReason(one)}>
            {SKIP_REASON[one]}
          </Button>
        ))}
      </div>
      <form class="reading" onSubmit={(submit) => submit.preventDefault()}>
        <WordsField label="Why, in words" value={words} onInput={setWords} />
        <CodeField label="A second person agrees: own code" value={agreedBy} last onInput={setAgreedBy} />
      </form>
      <FormRow
        turn={turn}
        act="Skip it"
        event={ready ? { type: "step-skipped", step, reason, words: words.trim(), agreedBy } : undefined}
      />
    </>
  );
}
