import { useEffect, useRef, useState } from "preact/hooks";
import { Button } from "./button.tsx";

/** SAFETY A36: between 1.0 and 1.5 s. */
export const PRESS_ms = 1200;
/** A finger that slides further than this has changed its mind (FIELD, touch). */
const DRIFT_px = 24;

type Props = {
  /** What happens, as the crew would say it: "Air on". */
  readonly act: string;
  readonly onConfirm: (input: Event) => void;
  /** The way without holding has been chosen: what is left is to confirm it. */
  readonly chosen: boolean;
  readonly onChoose: (chosen: boolean) => void;
};

/**
 * For acts that lead away from the safe side. Press, hold until it is full, lift: it fires on lifting.
 * Sliding off, a second finger, losing the page or lifting early cancels. Beside it stands a way
 * without holding: choose, then confirm far away from the finger, at the top of the page. It pushes what
 * stands there down and covers nothing: what is confirmed is read while it is confirmed.
 */
export function PressHold({ act, onConfirm, chosen, onChoose }: Props) {
  if (!chosen)
    return (
      <div class="press-hold-row">
        <Button onPress={() => onChoose(true)} label={`${act}: in two taps, without holding`}>
          Two taps
        </Button>
        <HoldButton act={act} onConfirm={onConfirm} />
      </div>
    );
  return (
    <>
      <div class="confirm-far">
        <Button look="go" critical onPress={onConfirm}>
          Confirm: {act}
        </Button>
      </div>
      <div class="press-hold-row">
        <Button critical onPress={() => onChoose(false)}>
          Not now
        </Button>
      </div>
    </>
  );
}

function HoldButton({ act, onConfirm }: Pick<Props, "act" | "onConfirm">) {
  const { pressing, full, handlers } = usePressHold(onConfirm);
  return (
    <button
      type="button"
      class="button go critical press-hold"
      data-critical=""
      data-pressing={pressing}
      data-full={full}
      style={{ "--press-hold": `${PRESS_ms}ms` }}
      aria-label={`Press and hold: ${act}. Without holding, use the button before this one.`}
      {...handlers}
    >
      <span class="press-hold-words">{full ? `Lift: ${act}` : `Press and hold: ${act}`}</span>
    </button>
  );
}

type Grip = { readonly id: number; readonly x: number; readonly y: number; readonly since: number };

function usePressHold(onConfirm: (input: Event) => void) {
  const grip = useRef<Grip | undefined>(undefined);
  const [pressing, setPressing] = useState(false);
  const [full, setFull] = useState(false);

  const letGo = () => {
    grip.current = undefined;
    setPressing(false);
    setFull(false);
  };
  useEffect(() => {
    addEventListener("blur", letGo);
    document.addEventListener("visibilitychange", letGo);
    return () => {
      removeEventListener("blur", letGo);
      document.removeEventListener("visibilitychange", letGo);
    };
  }, []);
  useEffect(() => {
    if (!pressing) return;
    // Only what is drawn: whether it was long enough is judged from the two events' own stamps.
    const timer = setTimeout(() => setFull(true), PRESS_ms);
    return () => clearTimeout(timer);
  }, [pressing]);

  const onPointerDown = (event: PointerEvent) => {
    if (grip.current || event.button !== 0) return letGo();
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    grip.current = { id: event.pointerId, x: event.clientX, y: event.clientY, since: event.timeStamp };
    setPressing(true);
  };
  const onPointerMove = (event: PointerEvent) => {
    const held = grip.current;
    if (held && Math.hypot(event.clientX - held.x, event.clientY - held.y) > DRIFT_px) letGo();
  };
  const onPointerUp = (event: PointerEvent) => {
    const held = grip.current;
    letGo();
    if (held?.id === event.pointerId && event.timeStamp - held.since >= PRESS_ms) onConfirm(event);
  };
  const onContextMenu = (event: Event) => event.preventDefault();
  return {
    pressing,
    full,
    handlers: {
      onPointerDown,
      onPointerMove,
      onPointerUp,
      onPointerCancel: letGo,
      onLostPointerCapture: letGo,
      onContextMenu,
    },
  };
}
