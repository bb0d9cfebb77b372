import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { evenly } from "../../core/plan/performance-map.ts";
import { performanceOf } from "../../core/propulsion/performance.ts";
import { predictionBudget } from "../../core/propulsion/prediction-budget.ts";
import { shotOf } from "../../core/propulsion/shot.ts";
import type { PlotMark, PlotSpec, Tone } from "../widgets/plot-spec.ts";
import type { SeriesRow } from "./series-rows.ts";

const points = 40;
const bandPoints = 9;
/** As wide as the 95 % intervals of the points beside it. */
const bandFactor = 2;
/** Pressures that are shown apart; more than these share the last tone. */
const tones: readonly Tone[] = ["measured", "predicted", "chosen", "raw"];

/** Impulse over water: for each pressure the predicted line with its band, and the runs as points with intervals. */
export function curvesSpec(rows: readonly SeriesRow[]): PlotSpec {
  const water = rows.map(({ setup }) => setup.water_kg);
  const [least, greatest] = [Math.min(...water), Math.max(...water)];
  const room = Math.max(0.05, 0.15 * (greatest - least));
  const pressures = [...new Set(rows.map(({ level }) => level.split(", ")[1]!))].sort(
    (a, b) => Number.parseFloat(a) - Number.parseFloat(b),
  );
  const marks = pressures.flatMap((pressure, i): PlotMark[] => {
    const own = rows.filter(({ level }) => level.endsWith(`, ${pressure}`));
    const tone = tones[Math.min(i, tones.length - 1)]!;
    return [
      ...predictedMarks(meanSetup(own), least - room, greatest + room, tone, pressure),
      ...pointMarks(own, tone),
    ];
  });
  const tops = rows.map(({ impulse_Ns, event }) => impulse_Ns + event.budget.expanded);
  const lows = rows.map(({ impulse_Ns, event }) => impulse_Ns - event.budget.expanded);
  const air = 0.15 * (Math.max(...tops) - Math.min(...lows)) + 0.2;
  return {
    label: `Total impulse over water of ${rows.length} runs, measured points on predicted lines`,
    x: { label: "water, g →", domain: [1e3 * (least - room), 1e3 * (greatest + room)] },
    y: { label: "↑ total impulse, N·s", domain: [Math.min(...lows) - air, Math.max(...tops) + air] },
    height_px: 400,
    marks,
  };
}

function predictedMarks(
  setup: ShotSetup,
  from_kg: number,
  to_kg: number,
  tone: Tone,
  name: string,
): PlotMark[] {
  const full_kg = setup.bottleVolume_m3 * setup.waterDensity_kg_m3;
  const fills = evenly(Math.max(0.01 * full_kg, from_kg), Math.min(0.95 * full_kg, to_kg), points);
  const impulses = fills.map((water_kg) => performanceOf(shotOf({ ...setup, water_kg })).impulse_Ns);
  const wide = fills.filter((_, i) => i % Math.floor(points / bandPoints) === 0 || i === points - 1);
  const budgets = wide.map((water_kg) => predictionBudget({ ...setup, water_kg }));
  const grams = (list: readonly number[]) => list.map((kg) => 1e3 * kg);
  return [
    {
      kind: "band",
      x: grams(wide),
      low: budgets.map(({ impulse_Ns, u_impulse_Ns }) => impulse_Ns - bandFactor * u_impulse_Ns),
      high: budgets.map(({ impulse_Ns, u_impulse_Ns }) => impulse_Ns + bandFactor * u_impulse_Ns),
      tone,
    },
    { kind: "line", x: grams(fills), y: impulses, tone },
    {
      kind: "words",
      // Left of the least fill that was run, where no point can lie under it.
      x: 1e3 * fills[1]!,
      y: impulses[1]!,
      text: name,
      tone,
      anchor: "start",
    },
  ];
}

/** Points of one level would lie on one another: each keeps its own place by a few grams, in order of the runs. */
const apart_g = 3;

function pointMarks(rows: readonly SeriesRow[], tone: Tone): PlotMark[] {
  const seen = new Map<string, number>();
  const x = rows.map(({ setup, level }) => {
    const count = seen.get(level) ?? 0;
    seen.set(level, count + 1);
    return 1e3 * setup.water_kg + apart_g * (count - 1.5);
  });
  return [
    {
      kind: "intervals",
      x,
      low: rows.map(({ impulse_Ns, event }) => impulse_Ns - event.budget.expanded),
      high: rows.map(({ impulse_Ns, event }) => impulse_Ns + event.budget.expanded),
      tone,
    },
    {
      kind: "points",
      x,
      y: rows.map(({ impulse_Ns }) => impulse_Ns),
      tone,
      titles: rows.map(({ run }) => `${run.code}, crew ${run.crew ?? "unknown"}`),
    },
  ];
}

/** The runs' own conditions, averaged: what the line stands for. */
function meanSetup(rows: readonly SeriesRow[]): ShotSetup {
  const mean = (of: (setup: ShotSetup) => number) =>
    rows.reduce((sum, { setup }) => sum + of(setup), 0) / rows.length;
  return {
    ...rows[0]!.setup,
    setPressure_Pa: mean((setup) => setup.setPressure_Pa),
    waterDensity_kg_m3: mean((setup) => setup.waterDensity_kg_m3),
    ambientPressure_Pa: mean((setup) => setup.ambientPressure_Pa),
  };
}
