import { useEffect } from "preact/hooks";
import { issueWords } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import type { Turn } from "./turn.ts";

/** In the strip, where the last and the next step stand otherwise: it takes no room from the step. */
export function UnsavedStrip() {
  return (
    <p class="not-saved" role="alert">
      <b>NOT SAVED. No gate opens.</b> Tap again to try. If it stays: paper card.
    </p>
  );
}

/**
 * Why the last tap does not count, and the way on; it goes by itself once the log is written. Comes for what
 * leads on only: a report shows at once all the same, with the screen that it leads to.
 */
export function UnsavedPanel({ turn, retry }: { readonly turn: Turn; readonly retry: () => void }) {
  const { view, show } = turn;
  const saved = view.save === "saved";
  useEffect(() => {
    if (saved) show(undefined);
  }, [saved]);
  return (
    <>
      <div class="hatch" />
      <h1 tabIndex={-1} class="act">
        The last tap is not in the log
      </h1>
      <ul class="missing">
        {view.trouble.map(issueWords).map(({ what, todo }) => (
          <li key={what}>
            <b>{what}</b> {todo}
          </li>
        ))}
      </ul>
      <p>Hold, make safe and what you say happened count at once all the same.</p>
      <div class="answer-row">
        <Button look="go" critical onPress={retry}>
          Try again
        </Button>
      </div>
    </>
  );
}
