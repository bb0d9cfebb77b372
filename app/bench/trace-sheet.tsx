import { useMemo, useRef, useState } from "preact/hooks";
import { plainNumber } from "../../core/units/value-text.ts";
import type { CurveName, ForceCurve, ForceEvent, ForceReduction, ForceRequest } from "../ports.ts";
import { Plot } from "../widgets/plot.tsx";
import type { PlotFrame, PlotMark, PlotSpec } from "../widgets/plot-spec.ts";
import { markNames } from "./bench-record.ts";
import type { Desk } from "./desk.ts";
import type { DeskFile } from "./desk-file.ts";
import { MarkHandles } from "./mark-handles.tsx";
import { markWords } from "./source-sheet.tsx";
import { IssueList } from "./take-in-strip.tsx";
import { type ForceView, useCurves } from "./use-force.ts";
import { around, between, type Extent, pan, type Viewport, wholeOf, zoomIn, zoomOut } from "./viewport.ts";

export type TraceSheetProps = {
  readonly desk: Desk;
  readonly view: ForceView;
  readonly file: DeskFile;
  readonly place: number;
  readonly request: ForceRequest;
  readonly event: ForceEvent;
  readonly trace: ForceReduction["trace"] | undefined;
};

/** As many columns as the widest picture here has; a narrower one is only painted more densely. */
const columns = 1200;
const leastSamples = 20;

const curveWords: Readonly<Record<CurveName, string>> = {
  read: "as the recorder wrote it",
  thrust: "thrust, corrected",
  envelope: "thrust after a 60 Hz low-pass",
};

/** The record with its marks: near or far, as read and as corrected. */
export function TraceSheet(props: TraceSheetProps) {
  const { view, file, event, trace, request } = props;
  const extent: Extent | undefined = trace && {
    from_s: trace.from_s,
    to_s: trace.to_s,
    least_s: leastSamples / trace.rate_Hz,
  };
  const [chosen, setChosen] = useState<Viewport>();
  const [names, setNames] = useState<readonly CurveName[]>(["read", "thrust"]);
  const shown = chosen ?? (extent && around(event.onset_s, event.end_s, extent));
  const curves = useCurves(view, file.digest, request, shown && { ...shown, names, columns });
  if (!extent || !shown) return null;
  const toggle = (name: CurveName) =>
    setNames(names.includes(name) ? names.filter((one) => one !== name) : [...names, name]);
  return (
    <section class="sheet" aria-labelledby="trace-title">
      <h2 id="trace-title">The record</h2>
      <ZoomRow shown={shown} extent={extent} event={event} onView={setChosen} />
      <fieldset class="button-row no-print">
        <legend class="unseen">Curves</legend>
        {(Object.keys(curveWords) as CurveName[]).map((name) => (
          <label key={name} class={`curve-choice tone-${name}`}>
            <input type="checkbox" checked={names.includes(name)} onChange={() => toggle(name)} />{" "}
            {curveWords[name]}
          </label>
        ))}
      </fieldset>
      {curves && !curves.ok && <IssueList issues={curves.issues} />}
      {curves?.ok && (
        <Picture {...props} curves={curves.value} shown={shown} extent={extent} onView={setChosen} />
      )}
      <p class="print-only">
        Drawn: {names.map((name) => curveWords[name]).join("; ")}. Upright, from the left:{" "}
        {markNames.map((mark) => `${markWords[mark]} ${plainNumber(event[mark], 6)} s`).join(", ")}.
      </p>
    </section>
  );
}

function ZoomRow(props: {
  readonly shown: Viewport;
  readonly extent: Extent;
  readonly event: ForceEvent;
  readonly onView: (view: Viewport) => void;
}) {
  const { shown, extent, event, onView } = props;
  const go = (view: Viewport) => () => onView(view);
  return (
    <div class="button-row no-print">
      <button type="button" class="button small" onClick={go(zoomIn(shown, extent))}>
        Nearer
      </button>
      <button type="button" class="button small" onClick={go(zoomOut(shown, extent))}>
        Farther
      </button>
      <button type="button" class="button small" aria-label="Earlier" onClick={go(pan(shown, extent, -1))}>
        ←
      </button>
      <button type="button" class="button small" aria-label="Later" onClick={go(pan(shown, extent, 1))}>
        →
      </button>
      <button type="button" class="button small" onClick={go(around(event.onset_s, event.end_s, extent))}>
        The firing
      </button>
      <button
        type="button"
        class="button small"
        onClick={go(around(event.onset_s, event.onset_s + 0.02, extent))}
      >
        Its start
      </button>
      <button type="button" class="button small" onClick={go(wholeOf(extent))}>
        Whole record
      </button>
      <span class="lead">
        {plainNumber(shown.from_s, 4)} to {plainNumber(shown.to_s, 4)} s
      </span>
    </div>
  );
}

type PictureProps = TraceSheetProps & {
  readonly curves: readonly ForceCurve[];
  readonly shown: Viewport;
  readonly extent: Extent;
  readonly onView: (view: Viewport) => void;
};

function Picture(props: PictureProps) {
  const { curves, shown, extent, event, trace, onView } = props;
  const spec = useMemo(() => traceSpec(curves, shown, event, trace), [curves, shown, event, trace]);
  const keys = (pressed: KeyboardEvent) => {
    const next = viewAfterKey(pressed.key, shown, extent);
    if (!next) return;
    pressed.preventDefault();
    onView(next);
  };
  return (
    <section
      class="trace"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the picture is moved with the keyboard, as with the buttons above
      tabIndex={0}
      aria-label="Trace: arrows move, plus and minus zoom, 0 shows the whole record"
      onKeyDown={keys}
    >
      <Plot
        spec={spec}
        table={() => traceTable(curves)}
        over={(frame) => (
          <>
            <DragToZoom frame={frame} onStretch={(a_s, b_s) => onView(between(a_s, b_s, extent))} />
            <MarkHandles {...props} frame={frame} />
          </>
        )}
      />
    </section>
  );
}

function viewAfterKey(key: string, shown: Viewport, extent: Extent): Viewport | undefined {
  switch (key) {
    case "+":
    case "=":
      return zoomIn(shown, extent);
    case "-":
      return zoomOut(shown, extent);
    case "ArrowLeft":
      return pan(shown, extent, -1);
    case "ArrowRight":
      return pan(shown, extent, 1);
    case "0":
      return wholeOf(extent);
    default:
      return undefined;
  }
}

const tones = { read: "raw", thrust: "measured", envelope: "chosen" } as const;

function traceSpec(
  curves: readonly ForceCurve[],
  shown: Viewport,
  event: ForceEvent,
  trace: ForceReduction["trace"] | undefined,
): PlotSpec {
  const gaps = (trace?.gaps ?? [])
    .filter(({ from_s, to_s }) => to_s > shown.from_s && from_s < shown.to_s)
    .map(({ from_s, to_s }): PlotMark => ({ kind: "region", x: [from_s, to_s], tone: "odd" }));
  return {
    label: `Force over time from ${plainNumber(shown.from_s, 4)} to ${plainNumber(shown.to_s, 4)} s, impulse ${plainNumber(event.report.impulse_Ns, 4)} N·s`,
    x: { label: "time in the record, s →", domain: [shown.from_s, shown.to_s] },
    y: { label: "↑ force, N", domain: forceRange(curves) },
    height_px: 360,
    marks: [
      ...gaps,
      { kind: "level", y: 0, tone: "faint" },
      ...curves.map(({ name, x, y }): PlotMark => ({ kind: "line", x, y, tone: tones[name] })),
      // Under the handles, and on paper in their place.
      ...markNames.map((mark): PlotMark => ({ kind: "upright", x: event[mark], tone: "chosen" })),
    ],
  };
}

/** Everything that is drawn, with air above and below. */
function forceRange(curves: readonly ForceCurve[]): [number, number] {
  let least = 0;
  let greatest = 0;
  for (const { y } of curves) {
    for (const value of y) {
      if (value < least) least = value;
      if (value > greatest) greatest = value;
    }
  }
  const air = 0.05 * (greatest - least || 1);
  return [least - air, greatest + air];
}

const tableRows = 60;

function traceTable(curves: readonly ForceCurve[]) {
  const [first] = curves;
  const step = Math.max(1, Math.floor((first?.x.length ?? 0) / tableRows));
  const rows: string[][] = [];
  for (let i = 0; first && i < first.x.length; i += step)
    rows.push([
      plainNumber(first.x[i]!, 5),
      ...curves.map(({ x, y }) => {
        const at = x.findIndex((time) => time >= first.x[i]!);
        return at >= 0 && Number.isFinite(y[at]!) ? plainNumber(y[at]!, 4) : "–";
      }),
    ]);
  return {
    caption: "Force in the part that is shown, some of its samples",
    head: ["time, s", ...curves.map(({ name }) => `${curveWords[name]}, N`)],
    rows,
  };
}

/** A stretch drawn on the picture becomes the picture; a mere click does nothing. */
function DragToZoom(props: {
  readonly frame: PlotFrame;
  readonly onStretch: (a_s: number, b_s: number) => void;
}) {
  const { frame, onStretch } = props;
  const [stretch, setStretch] = useState<{ from_px: number; to_px: number }>();
  const area = useRef<HTMLDivElement>(null);
  const at = (event: PointerEvent) => event.clientX - (area.current?.getBoundingClientRect().left ?? 0);
  const time = (px: number) => frame.x.toValue(frame.left_px + px);
  const end = () => {
    if (stretch && Math.abs(stretch.to_px - stretch.from_px) > leastDrag_px)
      onStretch(time(stretch.from_px), time(stretch.to_px));
    setStretch(undefined);
  };
  return (
    <div
      ref={area}
      class="trace-drag"
      style={frameStyle(frame)}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        setStretch({ from_px: at(event), to_px: at(event) });
      }}
      onPointerMove={(event) => stretch && setStretch({ ...stretch, to_px: at(event) })}
      onPointerUp={end}
      onPointerCancel={() => setStretch(undefined)}
    >
      {stretch && (
        <div
          class="trace-stretch"
          style={{
            left: `${Math.min(stretch.from_px, stretch.to_px)}px`,
            width: `${Math.abs(stretch.to_px - stretch.from_px)}px`,
          }}
        />
      )}
    </div>
  );
}

const leastDrag_px = 8;

const frameStyle = (frame: PlotFrame) => ({
  left: `${frame.left_px}px`,
  top: `${frame.top_px}px`,
  width: `${frame.right_px - frame.left_px}px`,
  height: `${frame.bottom_px - frame.top_px}px`,
});
