import { type Step, stepsOf } from "../../core/procedure/procedure.ts";
import type { RunView } from "../session/live-run.ts";
import { CALL } from "../text.ts";
import { readingWords, withRun } from "../widgets/log-words.ts";
import { hidesFirstLooks, type Screen } from "./screen.ts";

/** Where we were and where we go, small, on every screen in the same place (SAFETY A16). */
export function PlaceKeeping({ view, screen }: { readonly view: RunView; readonly screen: Screen }) {
  const phase = stepsOf(view.procedure, view.snapshot.state);
  const at = stepsAt(screen);
  const first = at[0] && phase.indexOf(at[0]);
  const done = view.snapshot.context.steps;
  const before = first === undefined ? phase.findLast(({ id }) => done[id]) : phase[first - 1];
  const next = first === undefined ? undefined : phase[first + at.length];
  const how = before && done[before.id]?.how;
  const said = before && saidOf(view, before);
  const saving = view.save === "saving" || view.pending.length > 0;
  return (
    <>
      {saving ? (
        <p class="near-by">Saving …</p>
      ) : before && !hidesFirstLooks(view) ? (
        <p class={`near-by ${how === "skipped" ? "skipped" : "done"}`}>
          <b>{how === "skipped" ? "Skipped" : (said ?? "Done")}</b> {withRun(before.text, view.code)}
        </p>
      ) : null}
      {first !== undefined && (
        <p class="near-by">
          <b>Next</b> {next ? withRun(next.text, view.code) : "stage complete"}
        </p>
      )}
      {screen.kind === "gate" && (
        <p class="near-by">
          <b>Next</b> {CALL[screen.call].act.toLowerCase()}
        </p>
      )}
    </>
  );
}

/** What was written down, so that a slip of the keyboard is seen while it can still be corrected. */
const saidOf = (view: RunView, step: Step): string | undefined => {
  const last = view.entries.findLast(
    ({ event }) => event.type === "step-done" && event.step === step.id,
  )?.event;
  return last?.type === "step-done" && last.reading ? readingWords(last.reading) : undefined;
};

const stepsAt = (screen: Screen): readonly Step[] => {
  if (screen.kind === "acts") return screen.steps;
  if (screen.kind === "step" || screen.kind === "restraint") return [screen.step];
  return [];
};
