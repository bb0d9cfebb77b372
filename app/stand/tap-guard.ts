import { useLayoutEffect, useMemo } from "preact/hooks";

/** SAFETY A37: a finger that was on its way when the screen changed decides nothing. */
const SETTLE_ms = 600;
/** Touch rule of FIELD: one finger does not mean two taps in this time. */
const REPEAT_ms = 300;

export type Verdict = "pass" | "drop-too-soon" | "ignore-repeat";

/** Judges every tap on the page, by the time of the input event. Hold and make safe are never kept waiting. */
export const createTapGuard = () => {
  let changed_ms = Number.NEGATIVE_INFINITY;
  let passed_ms = Number.NEGATIVE_INFINITY;
  return {
    screenChanged: (now_ms: number): void => {
      changed_ms = now_ms;
    },
    judge: (tap: { readonly at_ms: number; readonly critical: boolean; readonly safe: boolean }): Verdict => {
      if (tap.safe) return "pass";
      if (tap.critical && tap.at_ms - changed_ms < SETTLE_ms) return "drop-too-soon";
      if (tap.at_ms - passed_ms < REPEAT_ms) return "ignore-repeat";
      passed_ms = tap.at_ms;
      return "pass";
    },
  };
};

/** Handlers for the root of the page: they see a tap before any button does. */
export const useTapGuard = (screen: string, onDropped: () => void) => {
  const guard = useMemo(createTapGuard, []);
  useLayoutEffect(() => guard.screenChanged(performance.now()), [screen, guard]);
  const judge = (event: Event): void => {
    const button = (event.target as Element).closest("button");
    if (!button) return;
    const critical = button.dataset["critical"] !== undefined;
    const held = button.classList.contains("press-hold");
    // A press that is held acts by its pointer events; its click says nothing.
    if (held !== (event.type === "pointerdown")) return;
    const verdict = guard.judge({
      at_ms: event.timeStamp,
      critical,
      safe: button.dataset["safe"] !== undefined,
    });
    if (verdict === "pass") return;
    event.stopPropagation();
    event.preventDefault();
    if (verdict === "drop-too-soon") onDropped();
  };
  return { onClickCapture: judge, onPointerDownCapture: judge };
};
