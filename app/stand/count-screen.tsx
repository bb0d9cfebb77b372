import { useEffect, useState } from "preact/hooks";
import { waitedAtLeast_ms } from "../../core/sequence/clock.ts";
import { Button } from "../widgets/button.tsx";
import { feel } from "./senses.ts";
import type { Turn } from "./turn.ts";

/**
 * The window from the zero, drawn as large as the phone allows. What is drawn decides nothing: whether
 * the release was inside is judged from the stamps of the two taps. Past the window it says so, and
 * asks what was done; it costs nothing (SAFETY A31, A32). What says that it went stays where it was.
 */
export function CountScreen({ turn }: { readonly turn: Turn }) {
  const { view, say, clock } = turn;
  const { zeroAt } = view.snapshot.context;
  const window_ms = view.rig.limits.zeroToRelease_s * 1000;
  const left_ms = useFrames(() => (zeroAt ? window_ms - waitedAtLeast_ms(zeroAt, clock()) : 0));
  const digit = Math.ceil(left_ms / 1000);
  const missed = left_ms <= 0;
  useEffect(() => feel(missed ? "late" : "tick"), [digit, missed]);
  return (
    <div class="count">
      {missed ? (
        <>
          <Missed />
          <Button look="go" critical onPress={(tap) => void say({ type: "window-passed" }, tap)}>
            Nobody pulled
          </Button>
        </>
      ) : (
        <Digit digit={digit} share={left_ms / window_ms} />
      )}
      <div class="count-said">
        <Button critical onPress={(tap) => void say({ type: "nothing-happened" }, tap)}>
          {missed ? "Pulled, but nothing" : "Nothing happened"}
        </Button>
        <Button
          look={missed ? "plain" : "go"}
          critical
          onPress={(tap) => void say({ type: "released" }, tap)}
        >
          {missed ? "It went, late" : "It went"}
        </Button>
      </div>
    </div>
  );
}

function Digit({ digit, share }: { readonly digit: number; readonly share: number }) {
  return (
    <>
      <h1 tabIndex={-1} class="unseen">
        Release now
      </h1>
      <svg class="count-digit" viewBox="0 0 66 76" role="timer" aria-label={`${digit} seconds left`}>
        <text x="33" y="75">
          {digit}
        </text>
      </svg>
      <div class="count-bar" aria-hidden="true">
        <i style={{ transform: `scaleX(${share})` }} />
      </div>
    </>
  );
}

function Missed() {
  return (
    <div class="count-missed">
      <h1 tabIndex={-1}>Window missed. Nobody pulls.</h1>
      <p>It costs nothing. If nobody pulled, ask for zero again.</p>
    </div>
  );
}

/** Read anew at every frame; stands still while the page is hidden, which is why it decides nothing. */
const useFrames = (read: () => number): number => {
  const [value, setValue] = useState(read);
  useEffect(() => {
    let frame = 0;
    const draw = () => {
      setValue(read());
      frame = requestAnimationFrame(draw);
    };
    frame = requestAnimationFrame(draw);
    return () => cancelAnimationFrame(frame);
  }, []);
  return value;
};
