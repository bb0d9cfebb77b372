import {
  evenly,
  type MapAxes,
  type MapQuantity,
  type PerformanceMap,
} from "../../core/plan/performance-map.ts";
import type { DoneRun, Slot } from "../../core/plan/test-matrix.ts";
import { shortNumber } from "../../core/units/value-text.ts";
import type { PlotMark, PlotSpec } from "../widgets/plot-spec.ts";
import { inUnit, type UnitChoice, unitScale } from "../widgets/unit-choice.ts";
import { levelLabels, roundLevels } from "./contour-levels.ts";

/** What a map can show; times are shown in ms, where a burn has its digits. */
export const shownQuantities = [
  { key: "impulse_Ns", label: "Total impulse", unit: "N·s", scale: 1 },
  { key: "specificImpulse_s", label: "Specific impulse", unit: "s", scale: 1 },
  { key: "thrustStart_N", label: "Thrust at the start", unit: "N", scale: 1 },
  { key: "duration_s", label: "Duration", unit: "ms", scale: 1e3 },
  { key: "jetEnergy_J", label: "Jet energy", unit: "J", scale: 1 },
] as const satisfies readonly { key: MapQuantity; label: string; unit: string; scale: number }[];

export type Shown = (typeof shownQuantities)[number];

/** Coarse enough for a slider's 50 ms while it moves; fine once it rests, for lines without corners. */
export const mapGrids = { moving: { columns: 21, rows: 16 }, resting: { columns: 49, rows: 41 } } as const;
export type MapGridSize = (typeof mapGrids)[keyof typeof mapGrids];
const leastFill = 0.04;
const greatestFill = 0.96;
const leastPressure_Pa = 20_000;
const beyondLimit = 1.2;
/** More than this, and the labels of a small map run into one another. */
const mostLevels = 12;

/** The grid's two axes: they stay while a slider changes what lies between them. */
export function mapAxes(full_kg: number, limit_Pa: number, { columns, rows }: MapGridSize): MapAxes {
  return {
    water_kg: evenly(leastFill * full_kg, greatestFill * full_kg, columns),
    setPressure_Pa: evenly(leastPressure_Pa, beyondLimit * Math.max(limit_Pa, 2 * leastPressure_Pa), rows),
  };
}

export type MapView = {
  readonly map: PerformanceMap;
  readonly shown: Shown;
  readonly units: UnitChoice;
  readonly density_kg_m3: number;
  readonly limit_Pa: number;
};

/** The height lines alone, in the reader's own units: what a slider redraws. */
export function mapSpec(view: MapView): PlotSpec {
  const { map, shown, limit_Pa } = view;
  const { x, y } = axesOf(view);
  const values = map.values[shown.key].map((value) => value * shown.scale);
  const levels = roundLevels(...allowedRange(values, map, limit_Pa), mostLevels);
  return {
    ...emptyMap(view),
    marks: [
      {
        kind: "contours",
        values,
        columns: x.length,
        rows: y.length,
        x: [x[0]!, x.at(-1)!],
        y: [y[0]!, y.at(-1)!],
        levels,
      },
      ...waterLeft(map, x, y),
      ...levelLabels({ values, x, y }, levels).map(
        (label): PlotMark => ({ ...label, kind: "words", text: shortNumber(label.level, 3), tone: "faint" }),
      ),
    ],
  };
}

export type MapFrame = MapView & { readonly runs: readonly DoneRun[]; readonly toRun: readonly Slot[] };

/** What lies over the height lines and stays while they move: axes, the limit, runs done and to come. */
export function mapFrameSpec(view: Omit<MapFrame, "map"> & { readonly map: MapAxes }): PlotSpec {
  const { units, density_kg_m3, limit_Pa } = view;
  const perX = unitScale("water", units, density_kg_m3);
  const perY = unitScale("pressure", units);
  const limit = limit_Pa / perY;
  const at = (points: Placed) => ({
    x: points.map((point) => point.water_kg / perX),
    y: points.map((point) => point.setPressure_Pa / perY),
  });
  const empty = emptyMap(view);
  return {
    ...empty,
    marks: [
      { kind: "region", y: [limit, empty.y.domain[1]], tone: "limit" },
      { kind: "level", y: limit, tone: "limit", text: `limit ${inUnit(limit_Pa, "pressure", units)}` },
      ...planned(view.toRun, at),
      ...(view.runs.length > 0
        ? [
            {
              kind: "points",
              ...at(view.runs),
              tone: "done",
              titles: view.runs.map(({ code }) => code),
            } as const,
          ]
        : []),
    ],
  };
}

type Axes = Pick<MapView, "units" | "density_kg_m3"> & { readonly map: MapAxes };

const axesOf = ({ map, units, density_kg_m3 }: Axes) => ({
  x: map.water_kg.map((water_kg) => water_kg / unitScale("water", units, density_kg_m3)),
  y: map.setPressure_Pa.map((pressure_Pa) => pressure_Pa / unitScale("pressure", units)),
});

function emptyMap(view: Axes & { readonly shown: Shown }) {
  const { x, y } = axesOf(view);
  const { shown, units } = view;
  return {
    label: `${shown.label} in ${shown.unit} over water and set pressure, as height lines`,
    x: { label: `water, ${units.water} →`, domain: [x[0]!, x.at(-1)!] as const, grid: false },
    y: { label: `↑ set pressure, ${units.pressure}`, domain: [y[0]!, y.at(-1)!] as const, grid: false },
    height_px: 430,
  };
}

type Placed = readonly { readonly water_kg: number; readonly setPressure_Pa: number }[];

/** One square for each cell of the matrix that is not done, with how often it is still to run. */
function planned(toRun: readonly Slot[], at: (points: Placed) => { x: number[]; y: number[] }): PlotMark[] {
  const cells = new Map<string, { slot: Slot; times: number }>();
  for (const slot of toRun) {
    const key = `${slot.water_kg}/${slot.setPressure_Pa}`;
    cells.set(key, { slot, times: (cells.get(key)?.times ?? 0) + 1 });
  }
  if (cells.size === 0) return [];
  const open = [...cells.values()];
  const { x, y } = at(open.map(({ slot }) => slot));
  return [
    { kind: "points", x, y, tone: "planned", titles: open.map(({ times }) => `${times} still to run`) },
    ...open.map(
      ({ times }, i): PlotMark => ({
        kind: "words",
        x: x[i]!,
        y: y[i]!,
        text: `  ${times} to run`,
        tone: "planned",
        anchor: "start",
      }),
    ),
  ];
}

/** Levels are chosen for what may be run: what lies above the limit would crowd them out. */
function allowedRange(values: Float64Array, map: PerformanceMap, limit_Pa: number): [number, number] {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  const columns = map.water_kg.length;
  for (const [row, pressure_Pa] of map.setPressure_Pa.entries()) {
    if (pressure_Pa > limit_Pa) break;
    for (let i = row * columns; i < (row + 1) * columns; i++) {
      least = Math.min(least, values[i]!);
      greatest = Math.max(greatest, values[i]!);
    }
  }
  return [least, greatest];
}

/** Where the drive ends before the water does: right of this line some of it stays in the bottle. */
function waterLeft(map: PerformanceMap, x: readonly number[], y: readonly number[]): PlotMark[] {
  const left = map.values.left_kg;
  const step = x[1]! - x[0]!;
  const columns = x.length;
  const edge = y.map((_, row) => {
    const kept_kg = left.subarray(row * columns, (row + 1) * columns);
    const first = kept_kg.findIndex((kg) => kg > 0);
    if (first <= 0) return Number.NaN;
    // What stays grows about evenly from the edge on, which lies before the first point that has any.
    const slope = (kept_kg[first + 1] ?? Number.NaN) - kept_kg[first]!;
    return slope > 0 ? x[first]! - Math.min(1, kept_kg[first]! / slope) * step : x[first]!;
  });
  const known = edge.flatMap((at, row) => (Number.isNaN(at) ? [] : [{ x: at, y: y[row]! }]));
  if (known.length < 2) return [];
  return [
    { kind: "line", x: known.map((p) => p.x), y: known.map((p) => p.y), tone: "raw" },
    {
      kind: "words",
      ...known[Math.floor(known.length / 3)]!,
      text: "water stays →",
      tone: "raw",
      anchor: "end",
    },
  ];
}

/** The same as a table, coarser: a reader without the picture can still compare. */
export function mapTable(view: MapView) {
  const { map, shown, units, density_kg_m3 } = view;
  const columns = map.water_kg.length;
  const everyColumn = (columns - 1) / 4;
  const everyRow = (map.setPressure_Pa.length - 1) / 5;
  const picked = map.water_kg.filter((_, j) => j % everyColumn === 0);
  return {
    caption: `${shown.label}, ${shown.unit}: water across, set pressure down`,
    head: ["set pressure", ...picked.map((water_kg) => inUnit(water_kg, "water", units, density_kg_m3))],
    rows: map.setPressure_Pa.flatMap((pressure_Pa, i) =>
      i % everyRow === 0
        ? [
            [
              inUnit(pressure_Pa, "pressure", units),
              ...picked.map((_, j) =>
                shortNumber(map.values[shown.key][i * columns + j * everyColumn]! * shown.scale, 4),
              ),
            ],
          ]
        : [],
    ),
  };
}
