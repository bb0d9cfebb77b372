import { useState } from "preact/hooks";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField, ReadingField } from "../widgets/reading-field.tsx";
import { CorrectForm } from "./correct-form.tsx";
import { FormRow, WordsField } from "./form-parts.tsx";
import type { ReportForm, Turn } from "./turn.ts";

type Props = { readonly turn: Turn };

/** Reports that carry a word or a number. Each is one page with one button. */
export function ReportPanel({ turn, form }: Props & { readonly form: ReportForm }) {
  switch (form) {
    case "gauge":
      return <GaugeForm turn={turn} />;
    case "tag":
      return <TagForm turn={turn} />;
    case "agreed":
      return <AgreedForm turn={turn} />;
    case "correct":
      return <CorrectForm turn={turn} />;
    case "note":
      return <WordsForm turn={turn} title="Note" event={(text) => ({ type: "noted", text })} />;
    case "staff":
      return (
        <WordsForm turn={turn} title="Staff called: why" event={(why) => ({ type: "staff-called", why })} />
      );
    case "unresolved":
      return (
        <WordsForm
          turn={turn}
          title="Pressure unresolved: why"
          event={(why) => ({ type: "unresolved-declared", why })}
        />
      );
  }
}

type WordsProps = Props & {
  readonly title: string;
  readonly event: (words: string) => SequenceEvent;
};

function WordsForm({ turn, title, event }: WordsProps) {
  const [words, setWords] = useState("");
  return (
    <>
      <h1 tabIndex={-1} class="act">
        {title}
      </h1>
      <WordsField label="In words" value={words} onInput={setWords} />
      <FormRow turn={turn} event={words.trim() === "" ? undefined : event(words.trim())} />
    </>
  );
}

function GaugeForm({ turn }: Props) {
  const { gauges } = turn.view.rig;
  const { outside } = turn.view.snapshot.context;
  const [gauge, setGauge] = useState(gauges.find(({ id }) => outside.includes(id)) ?? gauges[0]);
  const [typed, setTyped] = useState("");
  const event: SequenceEvent | undefined =
    gauge && typed !== ""
      ? {
          type: "gauge-read",
          gauge: gauge.id,
          reading: { kind: "single", typed, unit: gauge.unit, instrument: gauge.id },
        }
      : undefined;
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Which gauge, and what does it read?
      </h1>
      <div class="choices">
        {gauges.map((one) => (
          <Button key={one.id} pressed={one === gauge} onPress={() => setGauge(one)}>
            {one.name}
          </Button>
        ))}
      </div>
      <form class="reading" onSubmit={(submit) => submit.preventDefault()}>
        <ReadingField label="It reads" unit={gauge?.unit ?? ""} value={typed} last onInput={setTyped} />
      </form>
      <FormRow turn={turn} event={event} />
    </>
  );
}

function TagForm({ turn }: Props) {
  const [part, setPart] = useState<string>();
  const [why, setWhy] = useState("");
  const event: SequenceEvent | undefined =
    part !== undefined && why.trim() !== "" ? { type: "kit-tagged-out", part, why: why.trim() } : undefined;
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Which part, and why?
      </h1>
      <div class="choices">
        {turn.view.rig.parts.map(({ id, name }) => (
          <Button key={id} pressed={id === part} onPress={() => setPart(id)}>
            {name}
          </Button>
        ))}
      </div>
      <WordsField label="Why" value={why} onInput={setWhy} />
      <FormRow turn={turn} event={event} />
    </>
  );
}

/** A pull without a standing restraint proof rests on the responsible person's word alone. */
function AgreedForm({ turn }: Props) {
  const [person, setPerson] = useState("");
  const [words, setWords] = useState("");
  const event: SequenceEvent | undefined =
    person !== "" && words.trim() !== ""
      ? { type: "discharge-agreed", person, words: words.trim() }
      : undefined;
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Widen the sectors. The responsible person agrees to the pull.
      </h1>
      <form class="reading" onSubmit={(submit) => submit.preventDefault()}>
        <CodeField
          label="Responsible person: your own code"
          value={person}
          last={false}
          onInput={setPerson}
        />
        <WordsField label="In your words" value={words} onInput={setWords} />
      </form>
      <FormRow turn={turn} event={event} act="I agree to the pull" />
    </>
  );
}
