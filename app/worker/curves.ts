import type { EventSeries } from "../../core/force/event.ts";
import type { Reduction } from "../../core/force/reduce.ts";
import type { CurveName, CurveView, ForceCurve } from "../ports.ts";
import { thin } from "./thin.ts";

/** The asked curves between two moments, thinned to the picture's columns. */
export function curvesOf(reduction: Reduction, view: CurveView): readonly ForceCurve[] {
  return view.names.map((name) =>
    name === "read" ? asRead(reduction, view) : aroundEvents(reduction, name, view),
  );
}

/** All channels together over the whole record; missing where any of them is. */
function asRead({ trace }: Reduction, { from_s, to_s, columns }: CurveView): ForceCurve {
  const { start_s, rate_Hz, samples, channels } = trace;
  const { first, last } = indices(from_s, to_s, start_s, rate_Hz, samples);
  const sum = new Float64Array(Math.max(0, last - first + 1));
  for (const { values, plan } of channels)
    for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + values[first + i]! * plan.toNewton;
  const at = (i: number) => start_s + (first + i) / rate_Hz;
  return { name: "read", ...thin(sum, at, { first: 0, last: sum.length - 1, columns }) };
}

/** The windows of all events one after another, each broken off from the next. */
function aroundEvents({ events }: Reduction, name: Exclude<CurveName, "read">, view: CurveView): ForceCurve {
  const parts = events.map(({ series }) => inWindow(series, name, view)).filter(({ x }) => x.length > 0);
  const length = parts.reduce((sum, { x }) => sum + x.length + 1, 0);
  const x = new Float64Array(length);
  const y = new Float64Array(length).fill(Number.NaN);
  let at = 0;
  for (const part of parts) {
    x.set(part.x, at);
    y.set(part.y, at);
    at += part.x.length;
    x[at] = part.x.at(-1)!;
    at += 1;
  }
  return { name, x, y };
}

function inWindow(series: EventSeries, name: Exclude<CurveName, "read">, view: CurveView) {
  const { start_s, rate_Hz } = series;
  const values = name === "thrust" ? series.thrust_N : series.envelope_N;
  const { first, last } = indices(view.from_s, view.to_s, start_s, rate_Hz, values.length);
  // A window that fills a part of the picture gets the columns of that part.
  const part = (last - first) / rate_Hz / (view.to_s - view.from_s);
  const columns = Math.max(1, Math.ceil(view.columns * part));
  return thin(values, (i) => start_s + i / rate_Hz, { first, last, columns });
}

/** One sample more on either side, so that a line reaches the edge of the picture. */
function indices(from_s: number, to_s: number, start_s: number, rate_Hz: number, samples: number) {
  return {
    first: Math.max(0, Math.floor((from_s - start_s) * rate_Hz)),
    last: Math.min(samples - 1, Math.ceil((to_s - start_s) * rate_Hz)),
  };
}
