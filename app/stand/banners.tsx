import type { LiveRun, RunView } from "../session/live-run.ts";
import { Button } from "../widgets/button.tsx";

/** A page that only looks on says so above the step, and can take over. */
export function Banners({ run, view }: { readonly run: LiveRun; readonly view: RunView }) {
  if (view.writer) return null;
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
}
