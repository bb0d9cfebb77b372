import type { ComponentChildren } from "preact";
import { isFinal, isHot, railPosition } from "../../core/sequence/states.ts";
import type { RunView } from "../session/live-run.ts";
import { STATE_TITLE } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { Rail } from "../widgets/rail.tsx";
import type { Panel, Turn } from "./turn.ts";

type Props = {
  readonly turn: Turn;
  /** Where in the stage: "2 of 5". */
  readonly part: string;
  readonly panel: Panel | undefined;
  readonly foot: ComponentChildren;
  readonly children: ComponentChildren;
};

/**
 * What every screen has in the same place: the head says where the run stands, hold and make safe lie
 * under the thumb, and in the lowest 64 px, where palms rest and systems listen for swipes, nothing
 * can be touched at all.
 */
export function Shell({ turn, part, panel, foot, children }: Props) {
  const { view, show } = turn;
  const { state } = view.snapshot;
  return (
    <>
      <header class="plate">
        <Plate view={view} part={part} />
        {panel ? (
          <Button look="quiet" onPress={() => show(undefined)}>
            Back to the run
          </Button>
        ) : (
          <Button look="quiet" onPress={() => show({ kind: "reports" })}>
            Say what happened
          </Button>
        )}
      </header>
      <main class="page">{children}</main>
      {!isFinal(state) && <SafeSide turn={turn} />}
      <footer class="strip">
        <div class="strip-rail">
          <Rail position={railPosition(state)} />
          <p class="number">{view.code}</p>
        </div>
        {foot}
      </footer>
    </>
  );
}

function Plate({ view, part }: { readonly view: RunView; readonly part: string }) {
  const { state } = view.snapshot;
  const drill = view.drill ? "DRILL · " : "";
  if (isHot(state))
    return (
      <p class="plate-words hot">
        <strong>
          {drill}
          {state === "unknown" ? "UNKNOWN" : "PRESSURIZED"}
        </strong>
        <span>{state === "unknown" ? "TREAT AS PRESSURIZED" : "STAY BEHIND THE LINE"}</span>
        <span class="unseen">
          {STATE_TITLE[state]}, {part}
        </span>
      </p>
    );
  const stage = railPosition(state) + 1;
  return (
    <>
      {stage >= 1 && stage <= 7 && (
        <b class="stage" aria-hidden="true">
          {stage}
        </b>
      )}
      <p class="plate-words">
        <strong>{STATE_TITLE[state]}</strong>
        <span>
          {drill}
          {part}
        </span>
      </p>
    </>
  );
}

/** Never guarded, never asked back, never waiting for the log (SAFETY A17, A23). */
function SafeSide({ turn: { view, say, show } }: { readonly turn: Turn }) {
  // A button that the log refuses is worse than none: they are where the run is written.
  if (!view.writer)
    return (
      <div class="banner">
        <p>
          <b>Hold and make safe are on the page that writes this run.</b> To have them here, take over.
        </p>
      </div>
    );
  const held = view.snapshot.context.hold !== undefined;
  const call = (type: "hold-called" | "make-safe-called") => (tap: Event) => {
    show(undefined);
    void say({ type, why: "" }, tap);
  };
  return (
    <nav class="safe-side" aria-label="Safe side">
      <Button look="hold" critical onPress={call("hold-called")}>
        {held ? "On hold" : "Hold"}
      </Button>
      <Button look="stop" critical onPress={call("make-safe-called")}>
        Make safe
      </Button>
    </nav>
  );
}
