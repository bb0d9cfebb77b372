import { PHASES, type PhaseId, type Procedure, type Step } from "../../../core/procedure/procedure.ts";
import type { Rig } from "../../../core/rig/rig.ts";
import { HERON } from "../documents.ts";

export type Cell = { readonly water_kg: number; readonly set_Pa: number };

/** Heron and its procedure for one cell of the test matrix: other water, other pressure, nothing else. */
export function documentsOf({ water_kg, set_Pa }: Cell): { rig: Rig; procedure: Procedure } {
  const { rig, procedure } = HERON;
  const water = `${water_kg.toFixed(3)} kg`;
  const pressure = `${(set_Pa / 1e5).toFixed(1)} bar`;
  const inCell = (step: Step): Step => {
    const text = step.text
      .replace(`${rig.fill.water_kg.toFixed(3)} kg`, water)
      .replace(`${(rig.pressure.set_Pa / 1e5).toFixed(1)} bar`, pressure);
    const band = bandOf(step, rig, { water_kg, set_Pa });
    return band && step.form.kind === "measure"
      ? { ...step, text, form: { ...step.form, band } }
      : { ...step, text };
  };
  return {
    rig: {
      ...rig,
      fill: { ...rig.fill, water_kg },
      pressure: { ...rig.pressure, set_Pa },
    },
    procedure: {
      ...procedure,
      id: `heron-series-${Math.round(water_kg * 1000)}-${Math.round(set_Pa / 1000)}`,
      title: `Heron, test series: ${water}, ${pressure} (SYNTHETIC)`,
      phases: eachPhase((phase) => procedure.phases[phase].map(inCell)),
    },
  };
}

const eachPhase = (stepsIn: (phase: PhaseId) => readonly Step[]): Procedure["phases"] =>
  Object.fromEntries(PHASES.map((phase) => [phase, stepsIn(phase)])) as unknown as Procedure["phases"];

function bandOf(step: Step, rig: Rig, cell: Cell) {
  if (step.form.kind !== "measure") return undefined;
  const { quantity, instrument } = step.form;
  if (quantity === "water") return around(cell.water_kg, rig.fill.tolerance_kg);
  if (quantity === "pressure" && instrument !== rig.supply.gauge)
    return around(cell.set_Pa, rig.pressure.tolerance_Pa);
  return undefined;
}

/** Rounded, so that a band reads as somebody would write it. */
const around = (value: number, tolerance: number) => ({
  min: Number((value - tolerance).toPrecision(6)),
  max: Number((value + tolerance).toPrecision(6)),
});
