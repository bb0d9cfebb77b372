import { useState } from "preact/hooks";
import { findStep } from "../../core/procedure/procedure.ts";
import type { SkipReason } from "../../core/sequence/vocabulary.ts";
import { SKIP_REASON } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import { FormRow, LineField } from "./form-parts.tsx";
import type { Turn } from "./turn.ts";

const REASONS = Object.keys(SKIP_REASON) as SkipReason[];

type Props = { readonly turn: Turn; readonly step: string };

/** A skip costs a little and is seen: a kind of reason, words, and a second person's own code (SAFETY A25). */
export function SkipPanel({ turn, step }: Props) {
  const reason = REASONS.find((one) => one === turn.page);
  if (reason !== undefined) return <SkipForm turn={turn} step={step} reason={reason} />;
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Skip: {findStep(turn.view.procedure, step)?.step.text}
      </h1>
      <div class="choices">
        {REASONS.map((one) => (
          <Button key={one} onPress={() => turn.turnTo(one)}>
            {SKIP_REASON[one]}
          </Button>
        ))}
      </div>
    </>
  );
}

function SkipForm({ turn, step, reason }: Props & { readonly reason: SkipReason }) {
  const [words, setWords] = useState("");
  const [agreedBy, setAgreedBy] = useState("");
  const ready = words.trim() !== "" && agreedBy !== "";
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Skip: {SKIP_REASON[reason].toLowerCase()}
      </h1>
      <form class="reading" onSubmit={(submit) => submit.preventDefault()}>
        <LineField label="Why, in words" value={words} onInput={setWords} />
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
