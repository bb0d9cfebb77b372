import { useState } from "preact/hooks";
import { findStep } from "../../core/procedure/procedure.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { ANSWER, HOLD_TITLE } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { eventWords, factKeysInWords, markOf, withRun } from "../widgets/log-words.ts";
import { CodeField } from "../widgets/reading-field.tsx";
import { personWords } from "./person.ts";
import { voidedByEvent } from "./said.ts";
import type { Turn } from "./turn.ts";

/** The usual reasons in one tap; any other in words. */
const REASONS = ["Put right and looked at", "False alarm", "We are ready again"] as const;

/** Nothing goes on until two people say so, with a reason (SAFETY A22). */
export function HoldScreen({ turn, fell }: { readonly turn: Turn; readonly fell: readonly string[] }) {
  return turn.page === "clear" ? (
    <ClearHold turn={turn} onBack={() => turn.turnTo("")} />
  ) : (
    <>
      <div class="hatch" />
      <HoldStory turn={turn} fell={fell} />
      <div class="answer-row">
        <Button critical onPress={() => turn.turnTo("clear")}>
          Clear the hold…
        </Button>
      </div>
    </>
  );
}

function HoldStory({ turn, fell }: { readonly turn: Turn; readonly fell: readonly string[] }) {
  const { view } = turn;
  const { hold } = view.snapshot.context;
  if (!hold) return null;
  const step = hold.step === undefined ? undefined : findStep(view.procedure, hold.step)?.step;
  const entry = view.entries.find(({ seq }) => seq === hold.seq);
  const found = hold.kind === "finding" && entry ? eventWords(entry.event, view) : undefined;
  const mismatch = mismatchWords(turn);
  const unseen = fell.length === 0 && hold.kind === "restart";
  const names = unseen ? voidedByEvent(view.sequence.doc, view.snapshot.state, "restarted") : fell;
  const lines: readonly (readonly [string, string | undefined])[] = [
    ["Said by", personWords(view, hold.by)],
    ["Why", found || hold.why === (entry?.event.type ?? "hold-called") ? undefined : hold.why],
    ["At", mismatch ? undefined : step && withRun(step.text, view.code)],
    ["Now", hold.kind === "finding" ? step?.hold?.onNo : undefined],
    ["To prove again", names.length > 0 ? factKeysInWords(names, view.rig) : undefined],
  ];
  return (
    <>
      <h1 tabIndex={-1} class="act">
        {mismatch ?? found ?? HOLD_TITLE[hold.kind]}
      </h1>
      <dl class="facts">
        {lines.map(
          ([name, words]) =>
            words !== undefined && (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{words}</dd>
              </div>
            ),
        )}
      </dl>
    </>
  );
}

/** Both answers are kept and both are shown: the difference is what the second look is for (SAFETY A8). */
const mismatchWords = ({ view }: Turn): string | undefined => {
  const { hold } = view.snapshot.context;
  const found = view.entries.find(({ seq }) => seq === hold?.seq)?.event;
  if (found?.type !== "restraint-answered") return undefined;
  const first = view.entries
    .filter(({ seq }) => seq < (hold?.seq ?? 0))
    .map(({ event }) => event as SequenceEvent)
    .findLast(
      (event) =>
        event.type === "restraint-answered" && event.round === 1 && event.restraint === found.restraint,
    );
  const before = first?.type === "restraint-answered" ? ANSWER[first.answer].toLowerCase() : "nothing";
  const mark = markOf(view.rig, found.restraint);
  return `${mark} does not agree: ${before} at the first look, ${ANSWER[found.answer].toLowerCase()} at the second.`;
};

/** From the hold's own page, or where making safe goes on under it. */
export function ClearHold({ turn, onBack }: { readonly turn: Turn; readonly onBack: () => void }) {
  const [codes, setCodes] = useState({ first: "", second: "" });
  const [why, setWhy] = useState("");
  const { hold, crew } = turn.view.snapshot.context;
  const alone = hold === undefined || hold.by === crew.conductor;
  const second = alone ? "Second person" : `${personWords(turn.view, hold.by)}`;
  const ready =
    codes.first !== "" && codes.second !== "" && codes.first !== codes.second && why.trim() !== "";
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Two people clear it
      </h1>
      <form class="reading" onSubmit={(event) => event.preventDefault()}>
        <div class="reading-fields of-2">
          <CodeField
            label="Conductor"
            value={codes.first}
            last={false}
            onInput={(first) => setCodes({ ...codes, first })}
          />
          <CodeField
            label={second}
            value={codes.second}
            last={false}
            onInput={(second) => setCodes({ ...codes, second })}
          />
        </div>
        <div class="reasons">
          {REASONS.map((reason) => (
            <Button key={reason} look="quiet" pressed={why === reason} onPress={() => setWhy(reason)}>
              {reason}
            </Button>
          ))}
        </div>
        <label class="field">
          Why it can go on
          <input value={why} maxLength={120} onInput={(event) => setWhy(event.currentTarget.value)} />
        </label>
      </form>
      <div class="answer-row">
        <Button onPress={onBack}>Back</Button>
        <Button
          look="go"
          critical
          disabled={!ready}
          onPress={(tap) => {
            turn.show(undefined);
            void turn.say({ type: "hold-cleared", with: codes.second, why: why.trim() }, tap, codes.first);
          }}
        >
          Clear the hold
        </Button>
      </div>
    </>
  );
}
