import { CountScreen } from "./count-screen.tsx";
import { EmptyScreen, PulledScreen } from "./empty-screen.tsx";
import { GateScreen } from "./gate-screen.tsx";
import { HandOverScreen } from "./hand-over-screen.tsx";
import { HoldScreen } from "./hold-screen.tsx";
import { OverScreen } from "./over-screen.tsx";
import { partOfLooks, RestraintScreen } from "./restraint-screen.tsx";
import { ReturnScreen } from "./return-screen.tsx";
import { UnknownScreen, UnresolvedScreen, WaitingScreen } from "./safing-screens.tsx";
import type { Screen } from "./screen.ts";
import { type Crew, SignOnScreen } from "./sign-on-screen.tsx";
import { partOf } from "./step-frame.tsx";
import { ActsScreen, StepScreen } from "./step-screen.tsx";
import type { Turn } from "./turn.ts";
import { ZeroScreen } from "./zero-screen.tsx";

export type Beside = {
  readonly lastCrew: Crew | undefined;
  /** What the last report took away, for the hold that it called. */
  readonly fell: readonly string[];
  readonly carry: (way: "share" | "save") => Promise<void>;
  readonly onLeave: () => void;
  readonly onReturnRead: (cleared: number) => void;
};

type Props = { readonly turn: Turn; readonly screen: Screen; readonly beside: Beside };

export function ScreenContent({ turn, screen, beside }: Props) {
  switch (screen.kind) {
    case "sign-on":
      return <SignOnScreen turn={turn} roles={screen.roles} lastCrew={beside.lastCrew} />;
    case "hold":
      return <HoldScreen turn={turn} fell={beside.fell} />;
    case "return":
      return <ReturnScreen turn={turn} card={screen} onRead={() => beside.onReturnRead(screen.cleared)} />;
    case "hand-over":
      return <HandOverScreen key={screen.to} turn={turn} handOver={screen} />;
    case "acts":
      return <ActsScreen turn={turn} steps={screen.steps} />;
    case "step":
      return <StepScreen turn={turn} step={screen.step} caught={screen.caught} />;
    case "restraint":
      return <RestraintScreen turn={turn} look={screen} />;
    case "gate":
      return <GateScreen turn={turn} gate={screen} />;
    case "zero":
      return <ZeroScreen turn={turn} missing={screen.missing} />;
    case "count":
      return <CountScreen turn={turn} />;
    case "empty":
      return <EmptyScreen turn={turn} empty={screen} />;
    case "pulled":
      return <PulledScreen turn={turn} />;
    case "waiting":
      return <WaitingScreen turn={turn} left_s={screen.left_s} />;
    case "unresolved":
      return <UnresolvedScreen turn={turn} />;
    case "unknown":
      return <UnknownScreen />;
    case "over":
      return <OverScreen turn={turn} carry={beside.carry} onLeave={beside.onLeave} />;
  }
}

/** The second line of the head: where in the stage this is. */
export const partOfScreen = ({ view }: Turn, screen: Screen): string => {
  switch (screen.kind) {
    case "acts":
      return partOf(view, screen.steps);
    case "step":
      return partOf(view, [screen.step]);
    case "restraint":
      return partOfLooks(screen, view.rig.restraints.length);
    case "hold":
      return "on hold";
    case "hand-over":
      return "hand over";
    case "gate":
      return "stage complete";
    case "sign-on":
      return "the crew";
    case "return":
      return "after the hold";
    default:
      return view.rig.name.split(",")[0] ?? "";
  }
};
