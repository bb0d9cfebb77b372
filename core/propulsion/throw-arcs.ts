import type { ShotSetup } from "../exchange/setup-shot.ts";
import { type Arc, airArcs, burnArcs } from "./burn-arcs.ts";
import { type ColumnFlow, columnFlow, takenUp_Pa } from "./column-flow.ts";
import { expansionOf } from "./expansion.ts";
import type { Shot } from "./shot.ts";
import { type Column, columnOf, driveAt_Pa } from "./unsteady-start.ts";
import type { WaterPhase } from "./water-phase.ts";

/**
 * The burn as a throw feels it: with the start of the flow where the bottle's section is known,
 * quasi-steady where it is not, since the column to be accelerated is then not known either.
 * @source docs/model.md#throw; checked in tests/reference/throw-start.reference.test.ts
 */
export function throwArcs(setup: ShotSetup, shot: Shot, water: WaterPhase): readonly Arc[] {
  const { bottleDiameter_m } = setup;
  if (bottleDiameter_m === undefined) return burnArcs(shot, expansionOf(shot), water);
  if (!(shot.water_kg > 0)) return airArcs(shot, water);
  const flow = columnFlow(columnOf({ ...setup, bottleDiameter_m }, shot));
  const arcs = [startArc(flow), settledArc(flow)];
  return flow.emptied ? [...arcs, ...airArcs(shot, water)] : arcs;
}

/** Over the root of the volume swept, in which Q is smooth from rest on. */
function startArc(flow: ColumnFlow): Arc {
  const state = stateOf(flow);
  return {
    phase: "water",
    from: 0,
    to: Math.sqrt(jointOf_m3(flow)),
    at: (root, moment) => {
      const { flow_m3_s, thrust_N, water_kg } = state(root * root);
      moment.timeRate_s = (2 * root) / flow_m3_s;
      moment.thrust_N = thrust_N;
      moment.water_kg = water_kg;
    },
  };
}

/** Over r with V = V_r exp(-r²), V_r the volume at rest: as Expansion does without inertia. */
function settledArc(flow: ColumnFlow): Arc {
  const { column, end_m3 } = flow;
  const start_m3 = column.shot.airVolume_m3;
  const rest_m3 = restVolume_m3(flow);
  const state = stateOf(flow);
  const rootAfter = (swept_m3: number) => Math.sqrt(Math.log(rest_m3 / (start_m3 + swept_m3)));
  return {
    phase: "water",
    from: rootAfter(jointOf_m3(flow)),
    to: rootAfter(end_m3),
    at: (root, moment) => {
      const volume_m3 = rest_m3 * Math.exp(-root * root);
      const { flow_m3_s, thrust_N, water_kg } = state(volume_m3 - start_m3);
      moment.timeRate_s = (-2 * root * volume_m3) / flow_m3_s;
      moment.thrust_N = thrust_N;
      moment.water_kg = water_kg;
    },
    endImpulse_Ns: -neckMomentum_Ns(flow),
  };
}

const jointOf_m3 = ({ settled_m3, end_m3 }: ColumnFlow) => Math.min(settled_m3, end_m3 / 2);

/**
 * Where the flow would end, inside the bottle or beyond it. Beyond, to the first order in 1/β: Y is D
 * of K A_s²/β before, and so it is zero that much after D is. It only has to make the arc smooth.
 */
function restVolume_m3({ column, emptied, end_m3 }: ColumnFlow): number {
  const { shot, memory, neckInertia_m3 } = column;
  if (!emptied) return shot.airVolume_m3 + end_m3;
  const steady_m3 = expansionOf(shot).restVolume_m3;
  const late_m3 = (memory * steady_m3 + shot.bottleVolume_m3 + neckInertia_m3) / (memory + 1);
  return Math.max(late_m3, shot.airVolume_m3 + end_m3);
}

/** Flow, thrust on the bottle at rest and water aboard, as columnState has them: T = ρ Q (v_j - v_s) + ρ H dQ/dt. */
function stateOf(flow: ColumnFlow) {
  const { column } = flow;
  const { shot, loss } = column;
  const least_Pa = 1e-14 * driveAt_Pa(shot, shot.airVolume_m3);
  // ρ Q (v_j - v_s) for each pascal of Y; the other term is (D - Y) H/K.
  const jet_m2 = (2 * shot.jetArea_m2 * (1 - shot.areaRatio)) / loss;
  return (swept_m3: number) => {
    const taken_Pa = takenUp_Pa(flow, swept_m3);
    const lag_Pa = driveAt_Pa(shot, shot.airVolume_m3 + swept_m3) - taken_Pa;
    return {
      // At rest the rate of time is 0/0: no slower than the last digit of Y allows.
      flow_m3_s: flowOf_m3_s(column, Math.max(taken_Pa, least_Pa)),
      thrust_N: jet_m2 * taken_Pa + lag_Pa * headPerInertia_m2(column, swept_m3),
      water_kg: shot.density_kg_m3 * (shot.waterVolume_m3 - swept_m3),
    };
  };
}

const flowOf_m3_s = ({ shot, loss }: Column, taken_Pa: number) =>
  shot.jetArea_m2 * Math.sqrt((2 * taken_Pa) / (shot.density_kg_m3 * loss));

/** H/K: the section itself without a neck, or one so short that it leaves no digit: both then end at 0. */
function headPerInertia_m2({ shot, section_m2, neckLength_m, neckInertia_m3 }: Column, swept_m3: number) {
  if (neckInertia_m3 === 0) return section_m2;
  const above_m3 = shot.waterVolume_m3 - swept_m3;
  return (section_m2 * (above_m3 + neckLength_m * section_m2)) / (above_m3 + neckInertia_m3);
}

/**
 * ρ Q L_n when the water is out: the equations keep it in the neck, a real column gives it up as it
 * leaves. Taken back at once, so that the impulse is ∫ ρ Q v_j dt whatever the neck.
 */
function neckMomentum_Ns(flow: ColumnFlow): number {
  const { column, emptied, end_m3 } = flow;
  if (!emptied) return 0;
  const flow_m3_s = flowOf_m3_s(column, Math.max(takenUp_Pa(flow, end_m3), 0));
  return column.shot.density_kg_m3 * flow_m3_s * column.neckLength_m;
}
