import { useRef, useState } from "preact/hooks";
import type { Throw } from "../../core/propulsion/throw.ts";
import { isFinal, isHot, type StateId } from "../../core/sequence/states.ts";
import type { Preferences } from "../ports.ts";
import type { LiveRun, RunView } from "../session/live-run.ts";
import { useAwake } from "../widgets/awake.ts";
import { Banners } from "./banners.tsx";
import { useFit } from "./fit.ts";
import { MakingSafeFor } from "./making-safe-for.tsx";
import { useHeadingFocus, usePages, useSteady } from "./pages.ts";
import { PanelContent } from "./panel.tsx";
import { PlaceKeeping } from "./place-keeping.tsx";
import { usePowerWatch } from "./power-watch.ts";
import { fallen } from "./said.ts";
import { keyOf, screenOf } from "./screen.ts";
import { partOfScreen, ScreenContent } from "./screen-content.tsx";
import { Shell } from "./shell.tsx";
import type { Crew } from "./sign-on-screen.tsx";
import { useStay } from "./stay.ts";
import { useTapGuard } from "./tap-guard.ts";
import type { Panel, Turn } from "./turn.ts";
import { UnsavedStrip } from "./unsaved.tsx";
import { useSay } from "./use-say.ts";
import { useView } from "./use-view.ts";
import "./stand.css";
import "./screens.css";

export type StandProps = {
  readonly run: LiveRun;
  readonly lastCrew: Crew | undefined;
  readonly estimate: Throw | undefined;
  /** Hands the run's file to another device, and says in words what became of it. */
  readonly carry: (way: "share" | "save") => Promise<string>;
  readonly onLeave: () => void;
  readonly preferences: Preferences;
};

/** The face at the stand: one run, one screen at a time, worked out anew from the log at every change. */
export function Stand({ run, lastCrew, estimate, carry, onLeave, preferences }: StandProps) {
  const view = useView(run);
  const [panel, show] = useState<Panel>();
  const [returnRead, onReturnRead] = useState(-1);
  const { say, busy, heard, announce, dropped } = useSay(run, show);
  const now = run.now();
  const { state } = view.snapshot;
  const screen = useSteady(screenOf(view, now, returnRead), state, busy);
  const { key, page, turnTo } = usePages(panel ? `panel ${panel.kind}` : keyOf(screen));
  const guard = useTapGuard(key, dropped);
  const { root, paged } = useFit(key, view.writer ? "" : "banner");
  const fell = useFell(view);
  const awake = useAwake();
  usePowerWatch(run);
  useHeadingFocus(root, key);
  useStay(() => announce("Back leads nowhere here. To leave: Say what happened, Menu."));

  const turn: Turn = { view, now, clock: run.now, say, show, page, turnTo, paged, estimate };
  const marks = { "data-screen": key, "data-mood": moodOf(state, panel), "data-drill": view.drill };
  const beside = {
    lastCrew,
    fell,
    carry: async (way: "share" | "save") => announce(await carry(way)),
    onLeave,
    onReturnRead,
  };
  const foot = view.save === "not-saved" ? <UnsavedStrip /> : <PlaceKeeping view={view} screen={screen} />;
  return (
    <div ref={root} class="stand" data-busy={busy} {...marks} {...guard}>
      <Shell turn={turn} part={partOfScreen(turn, screen)} panel={panel} foot={foot}>
        <Banners run={run} view={view} />
        {panel ? (
          <PanelContent
            turn={turn}
            panel={panel}
            phone={{ awake, preferences, onLeave }}
            retry={() => void run.retry()}
          />
        ) : (
          <>
            {state === "making-safe" && page === "" && <MakingSafeFor view={view} screen={screen} />}
            <ScreenContent turn={turn} screen={screen} beside={beside} />
          </>
        )}
      </Shell>
      <p class="heard" role="status">
        <span key={heard.count} class={heard.loud ? "loud" : "unseen"}>
          {heard.words}
        </span>
      </p>
    </div>
  );
}

const moodOf = (state: StateId, panel: Panel | undefined): string => {
  if (state === "zeroed" && !panel) return "count";
  if (isHot(state)) return "hot";
  return isFinal(state) ? "over" : "cold";
};

/** What stood before the hold and does not stand now, whoever called it; nothing where that was not seen. */
function useFell({ snapshot: { context } }: RunView): readonly string[] {
  const before = useRef(context);
  const fell = useRef<readonly string[]>([]);
  if (before.current.hold?.seq !== context.hold?.seq) fell.current = fallen(before.current, context);
  before.current = context;
  return fell.current;
}
