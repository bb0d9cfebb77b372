import type { LiveRun, RunView } from "../session/live-run.ts";
import { issueWords } from "../text.ts";
import { Button } from "../widgets/button.tsx";

/** What is wrong with the keeping of the log stands above the step, in words, until it is right again. */
export function Banners({ run, view }: { readonly run: LiveRun; readonly view: RunView }) {
  if (!view.writer)
    return (
      <div class="banner">
        <p>
          <b>Looking on.</b> Another page writes this run.
        </p>
        <Button look="quiet" onPress={() => void run.takeOver()}>
          Take over
        </Button>
      </div>
    );
  const [trouble] = view.trouble;
  if (view.save !== "not-saved" || !trouble) return null;
  const { what, todo } = issueWords(trouble);
  return (
    <div class="banner not-saved" role="alert">
      <p>
        <b>NOT SAVED. No gate opens.</b> {what} {todo} Go by the paper card if it stays.
      </p>
      <Button look="quiet" onPress={() => void run.retry()}>
        Try again
      </Button>
    </div>
  );
}
