import { isCritical } from "../../core/procedure/procedure.ts";
import { stepAtHand } from "../../core/sequence/context.ts";
import { isCold, isFinal, isLive } from "../../core/sequence/states.ts";
import type { SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import type { LiveRun, RunView, SessionPorts } from "./live-run.ts";

/** Two minutes without a touch in a step that matters are an interruption (SAFETY A18). */
const IDLE_MS = 120_000;

const gap_ms = (from: Stamp, to: Stamp): number =>
  Math.max(0, to.at - from.at, Math.round((to.mono - from.mono) / 10));

/** How long nobody may touch the phone here; undefined where it does not matter. */
const idleLimit_ms = ({ sequence, snapshot }: RunView): number | undefined => {
  const { state, context } = snapshot;
  if (context.hold !== undefined) return undefined;
  const step = stepAtHand(sequence.doc, snapshot);
  const matters = isLive(state) || (isCold(state) && step !== undefined && isCritical(step));
  if (!matters) return undefined;
  // A step that asks for a wait asks for hands off.
  return IDLE_MS + (step?.form.kind === "wait" ? step.form.seconds * 1000 : 0);
};

/**
 * Turns looking away and not touching into `interrupted`.
 * @param back  told on every return to sight, with what must be entered first
 * @returns the way to stop watching
 */
export const watchPresence = (
  run: LiveRun,
  { clock, presence, timer }: Pick<SessionPorts, "clock" | "presence" | "timer">,
  back: (gone: SequenceEvent | undefined) => void,
): (() => void) => {
  let hiddenSince: Stamp | undefined;
  let cancelIdle = (): void => {};

  const armIdle = (): void => {
    cancelIdle();
    const limit_ms = idleLimit_ms(run.view());
    if (limit_ms === undefined) return;
    cancelIdle = timer.after(limit_ms, () => {
      if (hiddenSince === undefined && idleLimit_ms(run.view()) !== undefined)
        void run.send({ type: "interrupted", cause: "idle", gap_ms: limit_ms });
    });
  };

  const stopWatching = presence.watch((change) => {
    if (change === "touched") return armIdle();
    if (change === "hidden") {
      hiddenSince ??= clock.now();
      return;
    }
    const since = hiddenSince;
    hiddenSince = undefined;
    const away = since !== undefined && !isFinal(run.view().snapshot.state);
    back(away ? { type: "interrupted", cause: "background", gap_ms: gap_ms(since, clock.now()) } : undefined);
    armIdle();
  });
  // Every change of the run is somebody's act, whether or not the screen was touched for it.
  const unsubscribe = run.subscribe(armIdle);
  armIdle();

  return () => {
    cancelIdle();
    stopWatching();
    unsubscribe();
  };
};
