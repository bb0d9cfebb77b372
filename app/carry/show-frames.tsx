import type { Bitmap2D } from "lean-qr";
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { CODE_SIZES, type CodeSize, makeFrames } from "../../core/exchange/qr-frames.ts";
import type { Result } from "../../core/result.ts";
import { issueWords } from "../text.ts";
import { useAwake } from "../widgets/awake.ts";
import { Button } from "../widgets/button.tsx";
import { CARRIED, type Carried } from "./carried.ts";
import { codeOf, codeSide, drawCode, modulesAcross } from "./code-picture.ts";
import { type Show, useShow } from "./use-show.ts";
import "./carry.css";

export type ShowFramesProps = {
  readonly what: Carried;
  /** The file that is to go, or why there is none. */
  readonly file: Result<string>;
  /** Somebody saw it arrive on the other device. */
  readonly onCarried: () => void;
  readonly onClose: () => void;
};

/** A file as codes, one after another, for another device's camera. Nothing leaves by any other way. */
export function ShowFrames({ what, file, onCarried, onClose }: ShowFramesProps) {
  const [size, setSize] = useState<CodeSize>("coarse");
  const { qrVersion, frame_bytes } = CODE_SIZES[size];
  const made = useMemo(() => (file.ok ? makeFrames(file.value, frame_bytes) : file), [file, frame_bytes]);
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  if (!made.ok)
    return (
      <main class="carry">
        <h1 ref={heading} tabIndex={-1}>
          {CARRIED[what].cannotGo}
        </h1>
        {made.issues.map(issueWords).map(({ what, todo }) => (
          <p key={what}>
            {what} {todo}
          </p>
        ))}
        <Button onPress={onClose}>Back</Button>
      </main>
    );
  const { code, frames } = made.value;
  return (
    <main class="carry">
      <h1 ref={heading} tabIndex={-1}>
        <span class="number">{code}</span> as {frames.length === 1 ? "one code" : `${frames.length} codes`}
      </h1>
      <Frames key={size} {...{ what, frames, qrVersion }}>
        <Button pressed={size === "fine"} onPress={() => setSize(size === "fine" ? "coarse" : "fine")}>
          Finer codes
        </Button>
        <Button onPress={onCarried}>It arrived</Button>
        <Button look="quiet" onPress={onClose}>
          Back
        </Button>
      </Frames>
    </main>
  );
}

type FramesProps = {
  readonly what: Carried;
  readonly frames: readonly Uint8Array[];
  readonly qrVersion: number;
  readonly children: preact.ComponentChildren;
};

function Frames({ what, frames, qrVersion, children }: FramesProps) {
  const show = useShow(frames.length);
  const awake = useAwake();
  const codes = useRef<(Bitmap2D | undefined)[]>([]);
  const { place, canvas, readable } = useCodeSide(modulesAcross(qrVersion));
  useLayoutEffect(() => {
    const frame = frames[show.index];
    if (!frame || !canvas.current) return;
    // Drawing one costs tens of milliseconds on a slow phone: once a frame, not once a showing.
    const code = codes.current[show.index] ?? codeOf(frame, qrVersion);
    codes.current[show.index] = code;
    drawCode(code, canvas.current);
  }, [frames, qrVersion, show.index]);
  const name = `Code ${show.index + 1} of ${frames.length}`;
  return (
    <>
      <div ref={place} class="carry-code">
        <canvas ref={canvas} role="img" aria-label={name} />
      </div>
      <div class="carry-side">
        <p class="carry-count number">
          <b>{name}</b> {show.playing ? `${show.rate_per_s} a second` : "standing still"}
        </p>
        <div class="carry-buttons">
          <Steering show={show} />
          {children}
        </div>
        <p>
          {CARRIED[what].showHow}
          {readable ? "" : " This window is too small for these codes: turn the phone, or take coarser ones."}
          {awake === "awake" ? "" : " The screen may sleep: touch it now and then."}
        </p>
      </div>
    </>
  );
}

/** Running it has its speed, standing still it is turned by hand. */
function Steering({ show }: { readonly show: Show }) {
  const { playing, play, turn, faster, slower } = show;
  return playing ? (
    <>
      <Button disabled={!slower} onPress={() => slower?.()}>
        Slower
      </Button>
      <Button onPress={() => play(false)}>Pause</Button>
      <Button disabled={!faster} onPress={() => faster?.()}>
        Faster
      </Button>
    </>
  ) : (
    <>
      <Button onPress={() => turn(-1)}>Previous</Button>
      <Button onPress={() => play(true)}>Run</Button>
      <Button onPress={() => turn(1)}>Next</Button>
    </>
  );
}

/** Keeps the code as large as its place allows, in whole pixels of the screen. */
function useCodeSide(modules: number) {
  const place = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [readable, setReadable] = useState(true);
  useLayoutEffect(() => {
    const box = place.current;
    if (!box) return;
    const resize = () => {
      const room_px = Math.min(box.clientWidth, box.clientHeight);
      const side = codeSide(room_px, modules, devicePixelRatio);
      setReadable(side.readable);
      if (!canvas.current) return;
      canvas.current.style.width = `${side.side_px}px`;
      canvas.current.style.height = `${side.side_px}px`;
    };
    resize();
    const watch = new ResizeObserver(resize);
    watch.observe(box);
    return () => watch.disconnect();
  }, [modules]);
  return { place, canvas, readable };
}
