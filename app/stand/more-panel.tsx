import { useState } from "preact/hooks";
import { isCritical } from "../../core/procedure/procedure.ts";
import { stepAtHand } from "../../core/sequence/context.ts";
import { isCold, isHot } from "../../core/sequence/states.ts";
import type { Preferences } from "../ports.ts";
import type { Awake } from "../widgets/awake.ts";
import { Button } from "../widgets/button.tsx";
import { hidesFirstLooks } from "./screen.ts";
import { isMuted, setMuted } from "./senses.ts";
import type { Panel, Turn } from "./turn.ts";

/** What belongs to this phone rather than to the run. */
export type Phone = {
  readonly awake: Awake;
  readonly preferences: Preferences;
  readonly onLeave: () => void;
};
type Props = { readonly turn: Turn; readonly phone: Phone };

/** Everything that is neither the step at hand nor a fact: ways back, the crew, the log, the phone itself. */
export function MorePanel({ turn, phone: { awake, preferences, onLeave } }: Props) {
  const { view, show } = turn;
  const { state } = view.snapshot;
  const step = stepAtHand(view.sequence.doc, view.snapshot);
  const items: readonly (readonly [string, Panel])[] = [
    ...(step?.skippable && !isCritical(step) && !isHot(state)
      ? [["Skip this step…", { kind: "skip", step: step.id }] as const]
      : []),
    ...((isCold(state) && state !== "preparing") || state === "approaching"
      ? [["Go back to a stage…", { kind: "back", scrub: false }] as const]
      : []),
    ["Crew and phone…", { kind: "crew" }],
    ...(hidesFirstLooks(view) ? [] : [["The log", { kind: "log" }] as const]),
    ...(isCold(state) || state === "approaching"
      ? [["Scrub this run…", { kind: "back", scrub: true }] as const]
      : []),
  ];
  return (
    <>
      <h1 tabIndex={-1} class="unseen">
        Menu
      </h1>
      <div class="choices">
        {view.save === "not-saved" && <Button onPress={() => show({ kind: "unsaved" })}>Not saved…</Button>}
        {items.map(([words, panel]) => (
          <Button key={words} onPress={() => show(panel)}>
            {words}
          </Button>
        ))}
        <Toggles preferences={preferences} />
        <Button onPress={onLeave}>Leave to the start page</Button>
      </div>
      <p>{awake === "awake" ? "The screen stays on." : "The screen may sleep: touch it now and then."}</p>
    </>
  );
}

/** Choices of this phone, not of the run. */
function Toggles({ preferences }: Pick<Phone, "preferences">) {
  const [, redraw] = useState(0);
  const root = document.documentElement;
  const night = root.dataset["theme"] === "night";
  return (
    <>
      <Button
        pressed={night}
        onPress={() => {
          root.dataset["theme"] = night ? "day" : "night";
          preferences.write("theme", night ? "day" : "night");
          redraw((n) => n + 1);
        }}
      >
        {night ? "Day screen" : "Night screen"}
      </Button>
      <Button
        pressed={isMuted()}
        onPress={() => {
          setMuted(!isMuted());
          preferences.write("sound", isMuted() ? "off" : "on");
          redraw((n) => n + 1);
        }}
      >
        {isMuted() ? "Sound on" : "Sound off"}
      </Button>
    </>
  );
}
