import { useState } from "preact/hooks";
import type { Entry } from "../../core/record/entry.ts";
import { Button } from "../widgets/button.tsx";
import { eventWords, factKeysInWords } from "../widgets/log-words.ts";
import { FormRow, WordsField } from "./form-parts.tsx";
import { restingOn } from "./said.ts";
import { hidesFirstLooks } from "./screen.ts";
import type { Turn } from "./turn.ts";

/** How many of the newest entries are offered: a mistake is noticed soon, or found in the review. */
const OFFERED = 6;

/** A mistaken entry stays; a new one names it, says why, and takes away what rested on it (SAFETY A45). */
export function CorrectForm({ turn }: { readonly turn: Turn }) {
  const [why, setWhy] = useState("");
  const { view } = turn;
  const chosen = view.entries.find(({ seq }) => String(seq) === turn.page);
  if (!chosen)
    return (
      <>
        <h1 tabIndex={-1} class="act">
          Which entry was a mistake?
        </h1>
        <div class="list">
          {offered(turn).map((entry) => (
            <Button key={entry.seq} look="quiet" onPress={() => turn.turnTo(String(entry.seq))}>
              {entry.seq}. {eventWords(entry.event, view)}
            </Button>
          ))}
        </div>
        <p>A wrong sign-on is put right by a new one: Menu, Crew and phone.</p>
      </>
    );
  const falls = restingOn(view.sequence.doc, view.snapshot.context, chosen.seq);
  return (
    <>
      <h1 tabIndex={-1} class="act quoted">
        {chosen.seq}. {eventWords(chosen.event, view)}
      </h1>
      <p>
        <b>This falls with it:</b> {falls.length === 0 ? "nothing." : factKeysInWords(falls, view.rig)}
      </p>
      <WordsField label="What was wrong" value={why} onInput={setWhy} />
      <FormRow
        turn={turn}
        act="Correct it"
        event={why.trim() === "" ? undefined : { type: "corrected", entry: chosen.seq, why: why.trim() }}
      />
    </>
  );
}

const CORRECTABLE = ["step-done", "step-skipped", "restraint-answered", "gauge-read", "noted"];

const offered = ({ view }: Turn): readonly Entry[] => {
  const gone = new Set(view.entries.map(({ event }) => (event.type === "corrected" ? event.entry : -1)));
  const hidden = hidesFirstLooks(view);
  return view.entries
    .filter(
      ({ seq, event }) =>
        CORRECTABLE.includes(event.type) &&
        !gone.has(seq) &&
        !(hidden && event.type === "restraint-answered" && event.round === 1),
    )
    .slice(-OFFERED)
    .toReversed();
};
