import { spokenDigest } from "../../core/record/digest.ts";
import { addressOf } from "../address.ts";
import type { RunView } from "../session/live-run.ts";
import { REPORT } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { callVoidedBy, saidIn } from "./said.ts";
import type { Turn } from "./turn.ts";

/** Letters and digits apart and large: it is read out over a field, and typed into the recorder. */
export function OverScreen({ turn, carry, onLeave }: Props) {
  const { view } = turn;
  const scrubbed = view.snapshot.state === "scrubbed";
  return (
    <>
      <p>{scrubbed ? "Scrubbed: it stays in the log." : "Say the code to the recorder:"}</p>
      <h1 tabIndex={-1} class="run-code number">
        {view.code}
      </h1>
      <dl class="facts">
        {story(view).map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </div>
        ))}
        <div>
          <dt>Seal</dt>
          <dd class="number">{spokenDigest(view.entries.at(-1)?.hash ?? "")} (write it on the paper card)</dd>
        </div>
      </dl>
      <div class="choices of-3">
        <Button onPress={() => void carry("share")}>Share the run</Button>
        <Button onPress={() => void carry("save")}>Save the run</Button>
        <a class="button" href={addressOf("codes", view.log)}>
          Show as codes
        </a>
        <Button onPress={() => turn.show({ kind: "log" })}>The log</Button>
        <Button onPress={onLeave}>Start page</Button>
      </div>
    </>
  );
}

type Props = {
  readonly turn: Turn;
  readonly carry: (way: "share" | "save") => Promise<void>;
  readonly onLeave: () => void;
};

/** A call that was taken back is not the same as none: what took it back is named. */
export const releaseWords = (view: Pick<RunView, "snapshot" | "entries" | "pending">): string => {
  const { release } = view.snapshot.context;
  if (!release) return "none";
  if (release.called) return release.onTime ? "on time" : "late";
  const said = saidIn(view);
  const by = callVoidedBy(said, release.seq);
  if (by) return `called, and the call was void: ${REPORT[by].toLowerCase()}`;
  const pulled = said.some(({ seq, event }) => seq < release.seq && event.type === "discharge-called");
  return pulled ? "by a pull to empty it" : "not called";
};

/** What the crew should know of their own run before they go; flags, never scores. */
const story = (view: RunView): readonly (readonly [string, string])[] => {
  const count = (test: (type: string) => boolean) =>
    view.entries.filter(({ event }) => test(event.type)).length;
  const caught = view.entries.filter(
    ({ event }) => event.type === "restraint-answered" && event.answer !== "home",
  ).length;
  return [
    ["Release", releaseWords(view)],
    ["Caught", String(caught)],
    ["Held", String(count((type) => type === "hold-called" || type === "interrupted"))],
    ["Skipped", String(count((type) => type === "step-skipped"))],
  ];
};
