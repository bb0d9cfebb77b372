import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { predict } from "../../core/propulsion/prediction.ts";
import type { ForceEvent, StoredRun } from "../ports.ts";
import type { Desk } from "./desk.ts";
import { eventsOf } from "./desk-file.ts";
import { firingsOf } from "./desk-lists.tsx";
import type { DeskRun } from "./run-conditions.ts";

/** One run of a series: its conditions, what was measured and what was predicted for them. */
export type SeriesRow = {
  readonly run: DeskRun;
  readonly setup: ShotSetup;
  readonly event: ForceEvent;
  readonly confirmed: boolean;
  readonly impulse_Ns: number;
  readonly u_Ns: number;
  readonly predicted_Ns: number;
  readonly predictedU_Ns: number;
  /** Measured over predicted. */
  readonly ratio: number;
  /** The fill and pressure that were planned: runs of one level are replicates. */
  readonly level: string;
};

/** Every run with a reduced firing, oldest first; drills are not among them. */
export function seriesRows(desk: Desk): readonly SeriesRow[] {
  return [...desk.runs.value].reverse().flatMap((run): SeriesRow[] => {
    const [firing] = firingsOf(desk, run.log);
    if (run.drill || !firing) return [];
    const { file, event: place, how } = firing;
    const event = eventsOf(file)[place];
    const request = file.outcome?.request;
    if (!event || !request?.ok) return [];
    const setup = request.value.setup.events?.[place] ?? request.value.setup;
    const predicted = predict(setup);
    if (!predicted.ok) return [];
    const impulse_Ns = event.report.impulse_Ns;
    return [
      {
        run,
        setup,
        event,
        confirmed: how === "joined",
        impulse_Ns,
        u_Ns: event.budget.u,
        predicted_Ns: predicted.value.impulse_Ns,
        predictedU_Ns: predicted.value.u.impulse_Ns,
        ratio: impulse_Ns / predicted.value.impulse_Ns,
        level: levelOf(setup, run.stored),
      },
    ];
  });
}

/** Off the planned level by more than the rig's tolerance: grouped by what it was, coarsely. */
const strayWater_kg = 0.05;
const strayPressure_Pa = 25_000;

function levelOf({ water_kg, setPressure_Pa }: ShotSetup, { documents: { rig } }: StoredRun): string {
  const near = (value: number, planned: number, tolerance: number, grain: number) =>
    Math.abs(value - planned) <= tolerance ? planned : grain * Math.round(value / grain);
  const water = near(water_kg, rig.fill.water_kg, rig.fill.tolerance_kg, strayWater_kg);
  const pressure = near(setPressure_Pa, rig.pressure.set_Pa, rig.pressure.tolerance_Pa, strayPressure_Pa);
  return `${Math.round(1000 * water)} g, ${(pressure / 1e5).toFixed(1)} bar`;
}

export const levelsOf = (rows: readonly SeriesRow[]): readonly string[] =>
  [...new Set(rows.map(({ level }) => level))].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
