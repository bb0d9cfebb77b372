import { useRef, useState } from "preact/hooks";
import type { Context } from "../../core/sequence/context.ts";
import { isReport, type SequenceEvent } from "../../core/sequence/vocabulary.ts";
import type { LiveRun, SendOutcome } from "../session/live-run.ts";
import { sentence } from "../text.ts";
import { eventWords, factKeysInWords } from "../widgets/log-words.ts";
import { missingWords } from "./missing-list.tsx";
import { fallen } from "./said.ts";
import { feel, openSound } from "./senses.ts";
import type { Panel, Turn } from "./turn.ts";

/** Said to a screen reader; `loud` also shows, where the last and the next step stand. */
export type Heard = { readonly words: string; readonly loud: boolean; readonly count: number };

/** What the page says back when something is said: seen, heard and felt, and what fell by it in words. */
export const useSay = (run: LiveRun, show: (panel: Panel | undefined) => void) => {
  const [waiting, setWaiting] = useState(0);
  const [heard, hear] = useState<Heard>({ words: "", loud: false, count: 0 });
  const tell = (words: string, loud: boolean) => hear(({ count }) => ({ words, loud, count: count + 1 }));
  const announce = (words: string) => tell(words, true);
  const busy = useRef(0);

  const refused = (event: SequenceEvent, outcome: Exclude<SendOutcome, { kind: "accepted" }>) => {
    feel("refused");
    const issues = outcome.kind === "refused" ? outcome.missing : outcome.issues;
    const lines = issues.map((one) => missingWords(run.view(), one));
    tell(`Not written. ${lines.map(({ what }) => what).join(" ")}`, outcome.kind === "refused");
    if (outcome.kind === "refused") show({ kind: "notice", title: "Not open yet", lines });
    else if (!isReport(event.type)) show({ kind: "unsaved" });
  };

  const tellWhatFell = (event: SequenceEvent, before: Context) => {
    const { snapshot, rig, sequence } = run.view();
    const keys = fallen(before, snapshot.context);
    // A hold has a page of its own that says it; moving on loses nothing that was not to be lost.
    if (keys.length === 0 || snapshot.context.hold || !tellsOf(event)) return;
    const rows = sequence.doc.facts.filter(({ id }) => keys.some((key) => key.split(":")[0] === id));
    show({
      kind: "notice",
      title: "This no longer stands",
      lines: rows.map(({ id, remedy }) => ({
        what: sentence(
          factKeysInWords(
            keys.filter((key) => key.split(":")[0] === id),
            rig,
          ),
        ),
        todo: remedy,
      })),
    });
  };

  const say: Turn["say"] = async (event, input, by) => {
    openSound();
    const before = run.view().snapshot.context;
    busy.current += isReport(event.type) ? 0 : 1;
    setWaiting(busy.current);
    const outcome = await run.send(event, {
      ...(by !== undefined && { by }),
      ...(input && { timeStamp: input.timeStamp }),
    });
    busy.current -= isReport(event.type) ? 0 : 1;
    setWaiting(busy.current);
    if (outcome.kind !== "accepted") {
      refused(event, outcome);
      return outcome;
    }
    feel(event.type === "refused" ? "refused" : "accepted");
    tell(`Written: ${eventWords(event, run.view())}`, false);
    tellWhatFell(event, before);
    return outcome;
  };

  /** A tap that came with the change of the screen: not taken, and logged as such (SAFETY A37). */
  const dropped = () => {
    feel("refused");
    announce("Too soon: the screen had just changed. Tap again.");
    void run.send({ type: "refused", event: "tap", missing: ["tap-too-soon"] });
  };

  return { say, busy: waiting > 0, heard, announce, dropped };
};

const QUIET: readonly string[] = ["released", "nothing-happened", "make-safe-called", "window-passed"];

/** Whether losing facts is news: after a report, a bad answer or a way back it is; at a forward call it is the plan. */
const tellsOf = (event: SequenceEvent): boolean =>
  (isReport(event.type) && !QUIET.includes(event.type)) ||
  event.type === "back-called" ||
  (event.type === "restraint-answered" && event.answer !== "home");
