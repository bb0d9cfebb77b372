import { useEffect, useRef, useState } from "preact/hooks";
import { plainNumber } from "../../core/units/value-text.ts";
import type { ForceEvent, ForceReduction } from "../ports.ts";
import type { PlotFrame } from "../widgets/plot-spec.ts";
import { type MarkName, markNames } from "./bench-record.ts";
import type { Desk } from "./desk.ts";
import type { DeskFile } from "./desk-file.ts";
import { markWords } from "./source-sheet.tsx";
import type { Viewport } from "./viewport.ts";

export type MarkHandlesProps = {
  readonly desk: Desk;
  readonly file: DeskFile;
  readonly place: number;
  readonly event: ForceEvent;
  readonly trace: ForceReduction["trace"] | undefined;
  readonly shown: Viewport;
  readonly frame: PlotFrame;
};

/** The marks of the firing as handles: dragged, or moved sample by sample with the arrow keys. */
export function MarkHandles(props: MarkHandlesProps) {
  return (
    <>
      {markNames
        .filter((mark) => props.event[mark] >= props.shown.from_s && props.event[mark] <= props.shown.to_s)
        .map((mark, i) => (
          <Handle key={mark} {...props} mark={mark} row={i} />
        ))}
    </>
  );
}

/** Keys wait this long for the next one before the move is made and logged: a walk of ten samples is one move. */
const settle_ms = 700;
const bigStep = 10;
/** Past this part of the picture a label would run out of it on the right. */
const flipAt = 0.72;

type HandleProps = MarkHandlesProps & { readonly mark: MarkName; readonly row: number };

function Handle(props: HandleProps) {
  const { event, frame, mark, row } = props;
  const move = useMarkMove(props);
  const strip = useRef<HTMLDivElement>(null);
  const byHand = event.byHand[mark] !== undefined;
  const timeUnder = (pointer: PointerEvent) =>
    frame.x.toValue(pointer.clientX - (strip.current?.parentElement?.getBoundingClientRect().left ?? 0));
  return (
    <div
      ref={strip}
      class="trace-mark"
      data-by-hand={byHand}
      data-flipped={frame.x.toPixel(move.at_s) > flipAt * frame.width_px}
      style={{
        left: `${frame.x.toPixel(move.at_s)}px`,
        top: `${frame.top_px}px`,
        height: `${frame.bottom_px - frame.top_px}px`,
      }}
    >
      <div
        class="trace-grip"
        style={{ top: `${row * 1.7}rem` }}
        role="slider"
        tabIndex={0}
        aria-label={`Mark: ${markWords[mark]}`}
        aria-valuenow={move.at_s}
        aria-valuetext={`${plainNumber(move.at_s, 6)} s${byHand ? ", by hand; Delete gives it back" : ""}`}
        onKeyDown={move.press}
        onPointerDown={(pointer) => {
          pointer.stopPropagation();
          pointer.currentTarget.setPointerCapture(pointer.pointerId);
          move.show(move.at_s);
        }}
        onPointerMove={(pointer) => pointer.buttons === 1 && move.drafted && move.show(timeUnder(pointer))}
        onPointerUp={move.take}
        onPointerCancel={move.drop}
      >
        {markWords[mark]}
        {byHand && " (by hand)"}
      </div>
    </div>
  );
}

/** Where the mark is while it is moved; the desk hears of it once, when the move is over. */
function useMarkMove({ desk, file, place, event, trace, mark }: HandleProps) {
  const [draft_s, setDraft] = useState<number>();
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  const at_s = draft_s ?? event[mark];
  const commit = (to_s: number | null) => {
    clearTimeout(timer.current);
    void desk.moveMark(file, place, mark, to_s).then(() => setDraft(undefined));
  };
  const drop = () => {
    clearTimeout(timer.current);
    setDraft(undefined);
  };
  const step = (samples: number) => {
    const to_s = at_s + samples / (trace?.rate_Hz ?? usualRate_Hz);
    setDraft(to_s);
    clearTimeout(timer.current);
    timer.current = setTimeout(() => commit(to_s), settle_ms);
  };
  const press = (pressed: KeyboardEvent) => {
    const samples = { ArrowLeft: -1, ArrowRight: 1, PageDown: -bigStep, PageUp: bigStep }[pressed.key];
    if (samples !== undefined) step(samples);
    else if (pressed.key === "Enter" && draft_s !== undefined) commit(draft_s);
    else if (pressed.key === "Delete" && event.byHand[mark] !== undefined) commit(null);
    else if (pressed.key === "Escape") drop();
    else return;
    pressed.preventDefault();
    pressed.stopPropagation();
  };
  const take = () => (draft_s === undefined || draft_s === event[mark] ? drop() : commit(draft_s));
  return { at_s, drafted: draft_s !== undefined, show: setDraft, press, take, drop };
}

/** Only until the record has said its own. */
const usualRate_Hz = 1000;
