import { ageAtMost_ms } from "../../core/sequence/clock.ts";
import type { Missing } from "../../core/sequence/missing.ts";
import { Button } from "../widgets/button.tsx";
import { MissingList, Remedies } from "./missing-list.tsx";
import type { Turn } from "./turn.ts";

type Props = { readonly turn: Turn; readonly missing: readonly Missing[] };

/**
 * Everything has been said. Indoors zeroes and says so: one tap is the zero and the release call, so
 * that nothing stands between them (SAFETY A29).
 */
export function ZeroScreen({ turn, missing }: Props) {
  const { view, say, now } = turn;
  const { limits } = view.rig;
  const clear = view.snapshot.context.facts["clear"];
  const left_s = clear ? Math.floor(limits.clearBeforeZero_s - ageAtMost_ms(clear, now) / 1000) : 0;
  const zerosLeft = limits.zeros - view.snapshot.context.zeros;
  if (missing.length > 0)
    return (
      <>
        <div class="hatch" />
        <h1 tabIndex={-1} class="act">
          No zero yet
        </h1>
        <MissingList view={view} missing={missing} />
        <Remedies turn={turn} missing={missing} />
      </>
    );
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Ask indoors for zero. On “zeroed”: tap, and count them down.
      </h1>
      <p class="near-by number">
        <b>Clear</b> <span>for {Math.max(0, left_s)} s more</span>
      </p>
      <p class="near-by number">
        <b>Zeros</b>{" "}
        <span>
          {zerosLeft} of {limits.zeros} left
        </span>
      </p>
      <div class="answer-row fill">
        <Button look="go" critical onPress={(tap) => void say({ type: "release-called" }, tap)}>
          Zeroed: release
        </Button>
      </div>
    </>
  );
}
