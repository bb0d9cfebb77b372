import type { Rig } from "../../core/rig/rig.ts";
import { isCold, isLive, type StateId } from "../../core/sequence/states.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { sentence } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { kindOf } from "../widgets/log-words.ts";
import type { ReportForm, Turn } from "./turn.ts";

type Props = { readonly turn: Turn };

/** The page of what takes words or a number. */
const MORE = "more";

/**
 * Facts are never refused: each in two taps from any screen, none below a fold, the weightiest for this
 * state first. Three in a row, at the least width of SAFETY A35, hold six restraints and everything else.
 */
export function ReportsPanel({ turn }: Props) {
  const { view, say, show, page, turnTo } = turn;
  if (page === MORE) return <Written turn={turn} />;
  const tell = (event: SequenceEvent) => (tap: Event) => {
    show(undefined);
    void say(event, tap);
  };
  return (
    <>
      <h1 tabIndex={-1} class="unseen">
        Say what happened
      </h1>
      <div class="happened">
        {factsFor(view.rig, view.snapshot.state).map(({ words, event }) => (
          <Button key={words} onPress={tell(event)}>
            {words}
          </Button>
        ))}
        <Button onPress={() => turnTo(MORE)}>Say more…</Button>
        <Button onPress={() => show({ kind: "more" })}>Menu…</Button>
      </div>
    </>
  );
}

/** What takes words, a number or a person's code: a page further, since it takes its time anyway. */
function Written({ turn: { view, show } }: Props) {
  const { state } = view.snapshot;
  const mayBeUnresolved = state === "making-safe" || state === "waiting";
  return (
    <>
      <h1 tabIndex={-1} class="unseen">
        Say more
      </h1>
      <div class="choices">
        {mayBeUnresolved && <FormButton show={show} form="unresolved" words="Pressure unresolved…" />}
        {FORMS.map(([form, words]) => (
          <FormButton key={form} show={show} form={form} words={words} />
        ))}
      </div>
    </>
  );
}

type FormButtonProps = Pick<Turn, "show"> & { readonly form: ReportForm; readonly words: string };

function FormButton({ show, form, words }: FormButtonProps) {
  return <Button onPress={() => show({ kind: "report", form })}>{words}</Button>;
}

const FORMS: readonly (readonly [ReportForm, string])[] = [
  ["gauge", "A gauge reads…"],
  ["staff", "Staff called…"],
  ["tag", "Tag a part out…"],
  ["note", "Note…"],
  ["correct", "Correct a mistake…"],
];

type Fact = { readonly words: string; readonly event: SequenceEvent };

const factsFor = (rig: Rig, state: StateId): readonly Fact[] => {
  const open = rig.restraints.map(
    ({ id, mark }): Fact => ({
      words: openWords(rig, mark),
      event: { type: "restraint-seen-open", restraint: id },
    }),
  );
  const went: Fact = {
    words: isLive(state) && state !== "zeroed" ? "It went early" : "It went",
    event: { type: "released" },
  };
  const people: readonly Fact[] = [
    { words: "Pulled, nothing", event: { type: "nothing-happened" } },
    { words: "Line crossed", event: { type: "line-crossed" } },
  ];
  const kit: readonly Fact[] = [
    { words: "It leaks", event: { type: "leak-seen" } },
    { words: "Bottle moved", event: { type: "bottle-moved" } },
    { words: "Water in line", event: { type: "water-in-line" } },
  ];
  const air: Fact = { words: "Air on early", event: { type: "air-seen-on" } };
  return isCold(state) ? [...open, ...kit, air, went, ...people] : [went, ...people, ...open, ...kit, air];
};

/** Letters that a button of the least width holds on one line, at the size of SAFETY A39. */
const ONE_LINE = 7;

/** "Latch B open", or where the rig's word for it is long, its mark alone, as on the metal. */
const openWords = (rig: Rig, mark: string): string => {
  const named = `${sentence(kindOf(rig)).replace(".", "")} ${mark}`;
  return `${named.length <= ONE_LINE ? named : mark} open`;
};
