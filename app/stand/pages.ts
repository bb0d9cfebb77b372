import type { RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { StateId } from "../../core/sequence/states.ts";
import type { Screen } from "./screen.ts";

/** While a row of entries is being written, the screen does not flicker through what lies between. */
export function useSteady(screen: Screen, state: StateId, busy: boolean): Screen {
  const shown = useRef({ screen, state });
  // A new state, or a hold, shows at once, whatever is still being written.
  if (!busy || screen.kind === "hold" || shown.current.state !== state) shown.current = { screen, state };
  return shown.current.screen;
}

/** A new screen begins at its heading, for the eye at the top and for a screen reader. */
export function useHeadingFocus(root: RefObject<HTMLElement | null>, key: string): void {
  useLayoutEffect(() => {
    root.current?.querySelector("main")?.scrollTo(0, 0);
    root.current?.querySelector("h1")?.focus({ preventScroll: true });
  }, [key]);
}

/** Pages of one screen: a new screen begins on its first, and so does one that comes again. */
export function usePages(screen: string) {
  const [, redraw] = useState(0);
  const turned = useRef({ screen, page: "" });
  if (turned.current.screen !== screen) turned.current = { screen, page: "" };
  const { page } = turned.current;
  return {
    page,
    key: page === "" ? screen : `${screen} / ${page}`,
    turnTo: (next: string) => {
      turned.current = { screen, page: next };
      redraw((n) => n + 1);
    },
  };
}
