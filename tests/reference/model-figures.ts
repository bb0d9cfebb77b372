import * as Plot from "@observablehq/plot";
import { Window } from "happy-dom";
import { predictedBand } from "../../core/compare/predicted-band.ts";
import { fillOptimum } from "../../core/plan/fill-optimum.ts";
import { evenly, type MapQuantity, performanceMap } from "../../core/plan/performance-map.ts";
import { thrustCurve } from "../../core/propulsion/thrust-curve.ts";
import { nominal, setupOf } from "./prediction-cases.ts";

/** The figures of docs/model.md, drawn from the model itself: name of the file → its text. */
export function modelFigures(): Readonly<Record<string, string>> {
  return {
    "model-thrust.svg": thrustFigure(),
    "model-impulse.svg": mapFigure("impulse_Ns", "total impulse, N s", 1),
    "model-specific-impulse.svg": mapFigure("specificImpulse_s", "specific impulse, s", 0.5),
  };
}

const setup = setupOf({ ...nominal, neckLength_m: 0.03, polytropicExponent: 1.25 });
const ink = "#161616";
const frame = {
  width: 640,
  height: 360,
  marginLeft: 56,
  marginBottom: 44,
  style: { color: ink, background: "white" },
};

function thrustFigure(): string {
  const times = Float64Array.from({ length: 281 }, (_, i) => i * 5e-4);
  const band = take(predictedBand(setup, times, { unsteady: false }));
  const unsteady = take(thrustCurve(setup, { unsteady: true }));
  const steady = Array.from(times, (t_s, i) => ({
    ms: t_s * 1e3,
    low: Math.max(0, band.thrust_N[i]! - 2 * band.u_N[i]!),
    thrust: band.thrust_N[i]!,
    high: band.thrust_N[i]! + 2 * band.u_N[i]!,
  }));
  const start = Array.from(unsteady.t_s, (t_s, i) => ({ ms: t_s * 1e3, thrust: unsteady.thrust_N[i]! }));
  return drawn({
    ...frame,
    x: { label: "time from release, ms", domain: [0, 140] },
    y: { label: "thrust, N", domain: [0, 450], grid: true },
    marks: [
      Plot.areaY(steady, { x: "ms", y1: "low", y2: "high", fill: "#bbb" }),
      Plot.line(steady, { x: "ms", y: "thrust", stroke: ink, strokeDasharray: "6 4" }),
      Plot.line(start, { x: "ms", y: "thrust", stroke: ink, strokeWidth: 2 }),
      Plot.ruleY([0], { stroke: ink }),
    ],
  });
}

function mapFigure(quantity: MapQuantity, label: string, step: number): string {
  const axes = { water_kg: evenly(0.1, 1.3, 61), setPressure_Pa: evenly(1e5, 6e5, 51) };
  const values = performanceMap(setup, axes).values[quantity];
  const levels = Array.from({ length: 60 }, (_, i) => (i + 1) * step);
  const best = axes.setPressure_Pa.flatMap((setPressure_Pa) => {
    const range = { least_kg: 0.1, greatest_kg: 1.3 };
    const optimum = fillOptimum({ ...setup, setPressure_Pa }, "impulse_Ns", range);
    return optimum.ok && quantity === "impulse_Ns"
      ? [{ litres: optimum.value.water_kg / 0.9982067, bar: setPressure_Pa / 1e5 }]
      : [];
  });
  const scale = 1 / 0.9982067;
  return drawn({
    ...frame,
    color: { scheme: "greys", domain: [0, Math.max(...values) * 1.6] },
    x: { label: "water, L", domain: [0.1 * scale, 1.3 * scale] },
    y: { label: `set pressure, bar; lines: ${label}, every ${step}` },
    marks: [
      Plot.contour(values, {
        width: axes.water_kg.length,
        height: axes.setPressure_Pa.length,
        x1: 0.1 * scale,
        x2: 1.3 * scale,
        y1: 1,
        y2: 6,
        fill: (value: number) => value,
        stroke: ink,
        strokeWidth: 0.7,
        thresholds: levels,
      }),
      Plot.line(best, { x: "litres", y: "bar", stroke: ink, strokeWidth: 2.5, strokeDasharray: "2 5" }),
    ],
  });
}

function drawn(options: Plot.PlotOptions): string {
  const { document } = new Window() as unknown as { document: Document };
  const svg = Plot.plot({ ...options, document });
  svg.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  // Two decimals of a pixel are more than an eye sees, and keep the file the same everywhere.
  const text = svg.outerHTML.replace(/-?\d+\.\d{3,}/g, (number) => String(Number(Number(number).toFixed(2))));
  return `${text}\n`;
}

const take = <T>(result: { ok: true; value: T } | { ok: false; issues: unknown }): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
