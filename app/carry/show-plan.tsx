import { useLayoutEffect, useRef } from "preact/hooks";
import { CODE_SIZES } from "../../core/exchange/qr-frames.ts";
import { codeOf, codeSide, drawCode, modulesAcross } from "./code-picture.ts";
import "./carry.css";

export type ShowPlanProps = {
  /** The plan's file. */
  readonly text: string;
  readonly onClose: () => void;
};

/** On the laptop: a test matrix as one code, for the phone's camera. It stands still, since one holds it all. */
export function ShowPlan({ text, onClose }: ShowPlanProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const bytes = new TextEncoder().encode(text);
  const size = Object.values(CODE_SIZES).find(({ frame_bytes }) => bytes.length <= frame_bytes);
  useLayoutEffect(() => {
    if (!size || !canvas.current) return;
    drawCode(codeOf(bytes, size.qrVersion), canvas.current);
    const { side_px } = codeSide(ROOM_PX, modulesAcross(size.qrVersion), devicePixelRatio);
    canvas.current.style.width = `${side_px}px`;
    canvas.current.style.height = `${side_px}px`;
  }, [text]);
  return (
    <section class="show-plan" aria-label="The plan as a code">
      {size ? (
        <canvas ref={canvas} role="img" aria-label="The plan as a code" />
      ) : (
        <p role="alert">This plan is too long for one code. Save it for the stand, and bring its file.</p>
      )}
      <p>On the phone: start page, Bring in a plan, Read its code.</p>
      <button type="button" class="button" onClick={onClose}>
        Put the code away
      </button>
    </section>
  );
}

/** A hand's width on most screens: a phone at arm's length then fills half its picture with it. */
const ROOM_PX = 420;
