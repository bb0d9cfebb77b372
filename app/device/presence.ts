import type { Presence } from "../ports.ts";

/**
 * Whether the page is in sight, and touched. `pagehide` and `freeze` count as out of sight too:
 * iOS does not always tell of visibility when the screen is locked.
 */
export const createPresence = (page: Document): Presence => ({
  watch: (told) => {
    const stop = new AbortController();
    const { signal } = stop;
    const window = page.defaultView;
    page.addEventListener("visibilitychange", () => told(page.hidden ? "hidden" : "visible"), { signal });
    page.addEventListener("freeze", () => told("hidden"), { signal });
    window?.addEventListener("pagehide", () => told("hidden"), { signal });
    window?.addEventListener("pageshow", () => told("visible"), { signal });
    page.addEventListener("pointerdown", () => told("touched"), { signal, capture: true, passive: true });
    page.addEventListener("keydown", () => told("touched"), { signal, capture: true });
    return () => stop.abort();
  },
});
