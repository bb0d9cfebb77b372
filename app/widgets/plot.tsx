import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import "./plot.css";
import type { drawPlot } from "./plot-draw.ts";
import type { PlotFrame, PlotSpec } from "./plot-spec.ts";

type Draw = typeof drawPlot;
let loaded: Draw | undefined;
let loading: Promise<Draw> | undefined;

/** Fetched once, with the first picture; precached, so it is there without a network. */
const loadDraw = () => {
  loading ??= import("./plot-draw.ts").then((module) => {
    loaded = module.drawPlot;
    return loaded;
  });
  return loading;
};

export type PlotTable = {
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
};

/**
 * A picture as wide as its place, with the same numbers as a table for whoever cannot see it, and room for what
 * a face lays over it (handles, a crosshair): `over` gets the frame in pixels.
 */
export function Plot(props: {
  readonly spec: PlotSpec;
  /** Laid under it, on the same domains and without axes: what is redrawn often, while the rest stays. */
  readonly under?: PlotSpec;
  /** Asked for when the reader opens it. */
  readonly table?: () => PlotTable;
  readonly over?: (frame: PlotFrame) => ComponentChildren;
}) {
  const place = useRef<HTMLDivElement>(null);
  const below = useRef<HTMLDivElement>(null);
  const draw = useDraw();
  const width_px = useWidth(place);
  const [frame, setFrame] = useState<PlotFrame>();

  useLayoutEffect(() => {
    if (!place.current || !draw || width_px === 0) return;
    const drawn = draw(props.spec, width_px);
    place.current.replaceChildren(drawn.svg);
    setFrame(drawn.frame);
  }, [draw, width_px, props.spec]);
  useLayoutEffect(() => {
    if (!below.current || !draw || width_px === 0 || !props.under) return;
    below.current.replaceChildren(draw(props.under, width_px, "left out").svg);
  }, [draw, width_px, props.under]);

  return (
    <div class="plot">
      <div class="plot-canvas" style={{ minHeight: `${props.spec.height_px}px` }}>
        {props.under && <div ref={below} class="plot-under" aria-hidden="true" />}
        <div ref={place} />
        {frame && props.over && <div class="plot-over">{props.over(frame)}</div>}
      </div>
      {props.table && <Numbers table={props.table} />}
    </div>
  );
}

function Numbers({ table }: { readonly table: () => PlotTable }) {
  const [open, setOpen] = useState(false);
  return (
    <details class="plot-numbers" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>The same in numbers</summary>
      {open && <Table {...table()} />}
    </details>
  );
}

function Table({ caption, head, rows }: PlotTable) {
  const cells = ([first, ...others]: readonly string[]) => (
    <tr key={first}>
      <th scope="row">{first}</th>
      {others.map((cell, i) => (
        <td key={head[i + 1]}>{cell}</td>
      ))}
    </tr>
  );
  return (
    <div class="plot-scroll">
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {head.map((cell) => (
              <th key={cell} scope="col">
                {cell}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{rows.map(cells)}</tbody>
      </table>
    </div>
  );
}

function useDraw(): Draw | undefined {
  const [draw, setDraw] = useState<Draw | undefined>(() => loaded);
  useEffect(() => {
    if (draw) return;
    let wanted = true;
    loadDraw().then(
      (found) => wanted && setDraw(() => found),
      () => {
        // Without a network and without the offline copy there is no picture; the table says the same.
        loading = undefined;
      },
    );
    return () => {
      wanted = false;
    };
  }, [draw]);
  return draw;
}

/** On paper the picture is scaled as a whole: a page is printed before anything could be drawn again for it. */
function useWidth(place: { current: HTMLElement | null }): number {
  const [width_px, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = place.current;
    if (!element) return;
    const measure = () => setWidth(Math.max(240, Math.floor(element.clientWidth)));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [place]);
  return width_px;
}
