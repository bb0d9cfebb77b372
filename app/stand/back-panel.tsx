import { useState } from "preact/hooks";
import { type Context, type Doc, stands } from "../../core/sequence/context.ts";
import { factRow } from "../../core/sequence/facts.ts";
import { isCold, railPosition } from "../../core/sequence/states.ts";
import type { BackTarget, SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { BACK_NAME } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { factKeysInWords } from "../widgets/log-words.ts";
import { FormRow, WordsField } from "./form-parts.tsx";
import type { Turn } from "./turn.ts";

const TARGETS = Object.keys(BACK_NAME) as BackTarget[];

/** Back to an earlier stage, or out of the run: both with a reason, and what falls is said beforehand. */
export function BackPanel({ turn, scrub }: { readonly turn: Turn; readonly scrub: boolean }) {
  const [to, setTo] = useState<BackTarget>();
  const [why, setWhy] = useState("");
  const { view } = turn;
  const { state, context } = view.snapshot;
  const open = TARGETS.filter(
    (target) => railPosition(target) < railPosition(state) && leadsToAir(view.sequence.doc, context, target),
  );
  const reason = why.trim();
  const event: SequenceEvent | undefined =
    reason === ""
      ? undefined
      : scrub
        ? { type: "scrub-called", why: reason }
        : to && { type: "back-called", to, why: reason };
  const falls = to ? fallsAt(view.sequence.doc, to).filter((key) => context.facts[key]) : [];
  return (
    <>
      <h1 tabIndex={-1} class="act">
        {scrub ? "Scrub this run?" : "Back to which stage?"}
      </h1>
      {scrub ? (
        <p>It ends here and stays in the log.</p>
      ) : (
        <div class="choices">
          {open.map((target) => (
            <Button key={target} pressed={target === to} onPress={() => setTo(target)}>
              {BACK_NAME[target]}
            </Button>
          ))}
        </div>
      )}
      {falls.length > 0 && (
        <p>
          <b>To be proved again:</b> {factKeysInWords(falls, view.rig)}
        </p>
      )}
      <WordsField label="Why" value={why} onInput={setWhy} />
      <FormRow turn={turn} event={event} act={scrub ? "Scrub the run" : "Go back"} />
    </>
  );
}

/**
 * Whether all that the air waits for can be proved from that stage on. Going back less far would be
 * refused only at the air call, after every proof was made once more: after a shot the water is gone.
 */
export const leadsToAir = (doc: Doc, context: Context, to: BackTarget): boolean =>
  doc.facts
    .filter(({ needs }) => needs.some(({ gate }) => gate === "air-called"))
    .every((row) => {
      const again = row.home.some((home) => isCold(home) && railPosition(home) >= railPosition(to));
      return again || (stands(doc, context, row.id) && row.lasts.includes(to));
    });

/** The facts that cannot stand in that stage, and those it starts anew: the same two columns that void them. */
const fallsAt = (doc: Doc, to: BackTarget): readonly string[] =>
  doc.facts
    .filter((row) => !row.lasts.includes(to) || row.home.includes(to))
    .flatMap((row) =>
      factRow(doc.facts, row.id)?.perRestraint
        ? doc.rig.restraints.map(({ id }) => `${row.id}:${id}`)
        : [row.id],
    );
