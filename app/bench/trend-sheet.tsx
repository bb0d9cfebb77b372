import { useState } from "preact/hooks";
import { type Trend, trendOf } from "../../core/series/trend.ts";
import { plainNumber } from "../../core/units/value-text.ts";
import { Plot } from "../widgets/plot.tsx";
import type { PlotMark, PlotSpec } from "../widgets/plot-spec.ts";
import type { SeriesRow } from "./series-rows.ts";
import { dayText } from "./when.ts";

type Against = {
  readonly key: string;
  readonly label: string;
  readonly unit: string;
  readonly per: string;
  /** Counted: no half of it on the axis. */
  readonly whole?: true;
  readonly of: (row: SeriesRow, rows: readonly SeriesRow[]) => number | undefined;
};

/** What a result may follow over a day. */
const against: readonly Against[] = [
  {
    key: "order",
    label: "order of the day",
    unit: "run of its day",
    per: "run later in its day",
    whole: true,
    of: (row, rows) =>
      1 + rows.filter(({ run }) => sameDay(run, row.run) && run.openedAt_ms < row.run.openedAt_ms).length,
  },
  {
    key: "supply",
    label: "supply pressure",
    unit: "bar",
    per: "bar more in the supply",
    of: ({ run }) => scaled(run.supply_Pa, 1e-5),
  },
  { key: "water", label: "water temperature", unit: "°C", per: "°C warmer", of: ({ run }) => run.water_C },
  {
    key: "term",
    label: "order of the term",
    unit: "run",
    per: "run later in the term",
    whole: true,
    of: (row, rows) => 1 + rows.indexOf(row),
  },
];

const sameDay = (a: { openedAt_ms: number }, b: { openedAt_ms: number }) =>
  dayText(a.openedAt_ms) === dayText(b.openedAt_ms);
const scaled = (value: number | undefined, by: number) => (value === undefined ? undefined : value * by);

/** Whether measured over predicted follows something: the supply sags, the water warms, hands tire. */
export function TrendSheet({ rows }: { readonly rows: readonly SeriesRow[] }) {
  const [chosen, setChosen] = useState(against[0]!);
  const points = rows.flatMap((row) => {
    const x = chosen.of(row, rows);
    return x === undefined ? [] : [{ x, y: row.ratio, code: row.run.code }];
  });
  const trend = trendOf(points);
  return (
    <section class="sheet" aria-labelledby="trend-title">
      <h2 id="trend-title">Measured over predicted against {chosen.label}</h2>
      <fieldset class="button-row no-print">
        <legend class="unseen">Against what</legend>
        {against.map((one) => (
          <button
            key={one.key}
            type="button"
            class="button small"
            aria-pressed={one.key === chosen.key}
            onClick={() => setChosen(one)}
          >
            {one.label}
          </button>
        ))}
      </fieldset>
      {trend.ok ? (
        <>
          <Plot spec={trendSpec(points, trend.value, chosen)} />
          <p>
            {plainNumber(100 * trend.value.slope, 2)} % ± {plainNumber(100 * trend.value.slopeHalfWidth95, 2)}{" "}
            % (95 %) for each {chosen.per}, {plainNumber(100 * trend.value.change, 2)} % over what was run; so
            steep by chance alone in {plainNumber(100 * trend.value.p, 2)} of 100 cases. The band holds the
            line with 95 %. Each trend that is tried has its own five false alarms in a hundred.
          </p>
        </>
      ) : (
        <p>{trend.issues.map(({ detail, remedy }) => `${detail}: ${remedy}.`).join(" ")}</p>
      )}
    </section>
  );
}

type Point = { readonly x: number; readonly y: number; readonly code: string };

function trendSpec(points: readonly Point[], trend: Trend, chosen: Against): PlotSpec {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  const room = 0.06 * (Math.max(...xs) - Math.min(...xs));
  const ends = [Math.min(...xs) - room, Math.max(...xs) + room];
  const marks: PlotMark[] = [
    { kind: "level", y: 1, tone: "faint" },
    ...bandMarks(points.length, trend, ends[0]!, ends[1]!),
    {
      kind: "line",
      x: ends,
      y: ends.map((x) => trend.level + trend.slope * (x - trend.meanX)),
      tone: "predicted",
    },
    { kind: "points", x: xs, y: ys, tone: "measured", titles: points.map(({ code }) => code) },
  ];
  const air = 0.2 * (Math.max(...ys, 1) - Math.min(...ys, 1));
  return {
    label: `Measured over predicted impulse of ${points.length} runs against ${chosen.label}`,
    x: {
      label: `${chosen.label}, ${chosen.unit} →`,
      domain: [ends[0]!, ends[1]!],
      ...(chosen.whole && { words: wholeTicks(xs) }),
    },
    y: {
      label: "↑ measured over predicted; 1: as predicted",
      domain: [Math.min(...ys, 1) - air, Math.max(...ys, 1) + air],
    },
    height_px: 260,
    marks,
  };
}

const bandPoints = 25;

/** Where the line lies with 95 %: its level and its slope are independent at the mean of x. */
function bandMarks(count: number, trend: Trend, from: number, to: number): readonly PlotMark[] {
  if (!(trend.slopeU > 0)) return [];
  const t95 = trend.slopeHalfWidth95 / trend.slopeU;
  const x = Array.from({ length: bandPoints }, (_, i) => from + ((to - from) * i) / (bandPoints - 1));
  const line = (at: number) => trend.level + trend.slope * (at - trend.meanX);
  const half = (at: number) =>
    t95 * Math.hypot(trend.deviation / Math.sqrt(count), trend.slopeU * (at - trend.meanX));
  return [
    {
      kind: "band",
      x,
      low: x.map((at) => line(at) - half(at)),
      high: x.map((at) => line(at) + half(at)),
      tone: "predicted",
    },
  ];
}

const mostTicks = 8;

function wholeTicks(xs: readonly number[]) {
  const [least, greatest] = [Math.min(...xs), Math.max(...xs)];
  const step = Math.ceil((greatest - least + 1) / mostTicks);
  const count = Math.floor((greatest - least) / step) + 1;
  return Array.from({ length: count }, (_, i) => {
    const at = least + step * i;
    return { at, text: String(at) };
  });
}
