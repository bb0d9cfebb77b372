import { useState } from "preact/hooks";
import type { Entry } from "../../core/record/entry.ts";
import { Button } from "../widgets/button.tsx";
import { eventWords, factKeysInWords } from "../widgets/log-words.ts";
import { FormRow, WordsField } from "./form-parts.tsx";
import { restingOn } from "./said.ts";
import { hidesFirstLooks } from "./screen.ts";
import type { Turn } from "./turn.ts";

/** As many as lie on a page without scrolling, the newest first; older ones come page by page. */
const ON_A_PAGE = 3;
const OLDER = "older ";

/** A mistaken entry stays; a new one names it, says why, and takes away what rested on it (SAFETY A45). */
export function CorrectForm({ turn }: { readonly turn: Turn }) {
  const [why, setWhy] = useState("");
  const { view } = turn;
  const chosen = view.entries.find(({ seq }) => String(seq) === turn.page);
  if (!chosen) return <ChooseEntry turn={turn} />;
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

function ChooseEntry({ turn }: { readonly turn: Turn }) {
  const { view, page, turnTo } = turn;
  const from = page.startsWith(OLDER) ? Number(page.slice(OLDER.length)) : 0;
  const all = offered(turn);
  const next = from + ON_A_PAGE;
  return (
    <>
      <h1 tabIndex={-1} class="act">
        What was a mistake?
      </h1>
      <div class="list">
        {all.slice(from, next).map((entry) => (
          <Button key={entry.seq} look="quiet" onPress={() => turnTo(String(entry.seq))}>
            <span class="two-lines">
              {entry.seq}. {eventWords(entry.event, view)}
            </span>
          </Button>
        ))}
      </div>
      <p>A wrong sign-on is put right by a new one: Menu, Crew and phone.</p>
      <div class="answer-row">
        {from > 0 && <Button onPress={() => turnTo("")}>Newest</Button>}
        {next < all.length && (
          <Button onPress={() => turnTo(`${OLDER}${next}`)}>Older: {all.length - next} more</Button>
        )}
      </div>
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
    .toReversed();
};
