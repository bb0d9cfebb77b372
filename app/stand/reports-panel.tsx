import type { Rig } from "../../core/rig/rig.ts";
import { isCold, isLive, type StateId } from "../../core/sequence/states.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { REPORT, sentence } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { kindOf } from "../widgets/log-words.ts";
import type { ReportForm, Turn } from "./turn.ts";

type Item = {
  readonly words: string;
  readonly event?: SequenceEvent;
  readonly form?: ReportForm;
};

/** Facts are never refused: two taps from any screen, the weightiest for this state first. */
export function ReportsPanel({ turn }: { readonly turn: Turn }) {
  const { view, say, show } = turn;
  const tell = (item: Item) => (tap: Event) => {
    if (item.form) return show({ kind: "report", form: item.form });
    show(undefined);
    if (item.event) void say(item.event, tap);
  };
  return (
    <>
      <h1 tabIndex={-1} class="unseen">
        Say what happened
      </h1>
      <div class="choices">
        {itemsFor(view.rig, view.snapshot.state).map((item) => (
          <Button key={item.words} onPress={tell(item)}>
            {item.words}
          </Button>
        ))}
      </div>
      <div class="answer-row">
        <Button onPress={() => show({ kind: "more" })}>More: the crew, the log, ways back, this phone</Button>
      </div>
    </>
  );
}

const itemsFor = (rig: Rig, state: StateId): readonly Item[] => {
  const plain = (type: keyof typeof REPORT, words = REPORT[type]): Item => ({
    words,
    event: { type } as SequenceEvent,
  });
  const kind = sentence(kindOf(rig)).replace(".", "");
  const open = rig.restraints.map(
    ({ id, mark }): Item => ({
      words: `${kind} ${mark} is open`,
      event: { type: "restraint-seen-open", restraint: id },
    }),
  );
  const went = plain("released", isLive(state) && state !== "zeroed" ? "It went early" : "It went");
  const nothing = plain("nothing-happened", "Pulled, nothing happened");
  const air = [plain("line-crossed"), plain("air-seen-on")];
  const wet = [plain("leak-seen"), plain("water-in-line"), plain("bottle-moved")];
  const facts = isCold(state)
    ? [...open, ...wet, ...air, went, nothing]
    : [went, nothing, ...air, ...open, ...wet];
  const unresolved: readonly Item[] =
    state === "making-safe" || state === "waiting"
      ? [{ words: "Pressure unresolved…", form: "unresolved" }]
      : [];
  return [
    ...unresolved,
    ...facts,
    { words: "A gauge reads…", form: "gauge" },
    { words: "Staff called…", form: "staff" },
    { words: "Tag a part out…", form: "tag" },
    { words: "Note…", form: "note" },
    { words: "Correct a mistake…", form: "correct" },
  ];
};
