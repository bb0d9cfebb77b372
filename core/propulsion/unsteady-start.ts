import type { ShotSetup } from "../exchange/setup-shot.ts";
import type { Arc } from "./burn-arcs.ts";
import { gaussLegendre } from "./gauss-legendre.ts";
import { discArea_m2, type Shot } from "./shot.ts";

/**
 * The water phase with its inertia. In time it is an ordinary differential equation that turns
 * stiff as the column runs out; over the volume swept it is linear in Q², and this is its solution
 * (docs/model.md#start):
 *
 *   (ρ/2) K d(Q²)/dV = D - (ρ/2) (ζ/A_j²) Q²,   K = h/A_s + L_n/A_n,   ζ = 1/C_v² - σ²
 *   Q²(V) = (2 A_s²/ρ) ∫ D(V') exp(-β z) dz,   z = ln K(V')/K(V) from 0 to ln K(V0)/K(V),   β = ζ A_s²/A_j²
 *
 * K is linear in V, so the integrating factor is a power of K and nothing is stiff.
 */
export type Column = {
  readonly shot: Shot;
  readonly section_m2: number;
  readonly neckLength_m: number;
  /** K A_s² when all the water is out: the neck's share. */
  readonly neckInertia_m3: number;
  /** ζ */
  readonly loss: number;
  /** β: how many times over the flow forgets its start within the column. */
  readonly memory: number;
};

export function columnOf(setup: ShotSetup & { readonly bottleDiameter_m: number }, shot: Shot): Column {
  const section_m2 = discArea_m2(setup.bottleDiameter_m);
  const neckLength_m = setup.neckLength_m ?? 0;
  const loss = 1 / shot.velocityCoefficient ** 2 - shot.areaRatio ** 2;
  return {
    shot,
    section_m2,
    neckLength_m,
    neckInertia_m3: (neckLength_m * section_m2 ** 2) / discArea_m2(setup.neckDiameter_m),
    loss,
    memory: loss / shot.areaRatio ** 2,
  };
}

export type ColumnState = {
  readonly flow_m3_s: number;
  /** Force on the bottle at rest: ρ Q (v_j - v_s) + ρ H dQ/dt. */
  readonly thrust_N: number;
};

/** Released at once, from rest, with air volume V now; for V between V0 and the end of the phase. */
export function columnState(column: Column, airVolume_m3: number): ColumnState {
  const { shot, section_m2, memory } = column;
  const squared = flowSquared(column, airVolume_m3);
  const startInertia_m3 = inertia_m3(column, shot.airVolume_m3);
  const inertiaNow_m3 = inertia_m3(column, airVolume_m3);
  // Without a neck the inertia ends at 0; the head does too, and what is left of the start times it.
  const fading = inertiaNow_m3 > 0 ? (inertiaNow_m3 / startInertia_m3) ** memory / inertiaNow_m3 : 0;
  // dQ/dt = ½ d(Q²)/dV by differentiating the integral: no difference of near equals over a small K.
  const rate =
    (section_m2 ** 2 / shot.density_kg_m3) *
    (driveAt_Pa(shot, shot.airVolume_m3) * fading +
      weighted(column, airVolume_m3, (volume_m3, z) => driveSlope_Pa_m3(shot, volume_m3) * Math.exp(z)));
  const column_m = (shot.bottleVolume_m3 - airVolume_m3) / section_m2 + column.neckLength_m;
  return {
    flow_m3_s: Math.sqrt(Math.max(squared, 0)),
    thrust_N: shot.density_kg_m3 * (squared * (1 / shot.jetArea_m2 - 1 / section_m2) + column_m * rate),
  };
}

/** Q²; below zero past the point where the column comes to rest. */
function flowSquared(column: Column, airVolume_m3: number): number {
  const scale = (2 * column.section_m2 ** 2) / column.shot.density_kg_m3;
  return scale * weighted(column, airVolume_m3, (volume_m3) => driveAt_Pa(column.shot, volume_m3));
}

/** K A_s² */
const inertia_m3 = (column: Column, airVolume_m3: number) =>
  column.shot.bottleVolume_m3 - airVolume_m3 + column.neckInertia_m3;

/** D when the air takes up so much. */
export function driveAt_Pa(shot: Shot, volume_m3: number): number {
  const head_m = shot.headPerVolume_m_m3 * (shot.bottleVolume_m3 - volume_m3) + shot.neckHead_m;
  const air_Pa = shot.start_Pa * (shot.airVolume_m3 / volume_m3) ** shot.exponent;
  return air_Pa - shot.ambient_Pa + shot.density_kg_m3 * shot.gravity_m_s2 * head_m;
}

function driveSlope_Pa_m3(shot: Shot, volume_m3: number): number {
  const air_Pa = shot.start_Pa * (shot.airVolume_m3 / volume_m3) ** shot.exponent;
  return (
    (-shot.exponent * air_Pa) / volume_m3 - shot.density_kg_m3 * shot.gravity_m_s2 * shot.headPerVolume_m_m3
  );
}

const rule = gaussLegendre(16);
/** In units of 1/β; past the last one exp(-β z) is below 1e-17. */
const breaks = [0, 4, 14, 40] as const;

/** ∫ f(V'(z), z) exp(-β z) dz over all that was swept before V. */
function weighted(column: Column, airVolume_m3: number, f: (volume_m3: number, z: number) => number): number {
  const now_m3 = inertia_m3(column, airVolume_m3);
  const all = Math.log(inertia_m3(column, column.shot.airVolume_m3) / now_m3);
  let sum = 0;
  for (let panel = 0; panel + 1 < breaks.length; panel++) {
    const from = breaks[panel]! / column.memory;
    const to = Math.min(breaks[panel + 1]! / column.memory, all);
    if (to <= from) break;
    const half = (to - from) / 2;
    for (let k = 0; k < rule.nodes.length; k++) {
      const z = from + half * (1 + rule.nodes[k]!);
      const volume_m3 = airVolume_m3 - now_m3 * Math.expm1(z);
      sum += half * rule.weights[k]! * Math.exp(-column.memory * z) * f(volume_m3, z);
    }
  }
  return sum;
}

/** Where the phase ends: the bottle empty, or the column at rest before that, its momentum spent. */
export function columnEnd_m3(column: Column): number {
  const { shot } = column;
  if (flowSquared(column, shot.bottleVolume_m3) > 0) return shot.bottleVolume_m3;
  let [moving, spent] = [shot.airVolume_m3, shot.bottleVolume_m3];
  for (let step = 0; step < 60; step++) {
    const middle = (moving + spent) / 2;
    // Q² starts at exactly 0 and rises: the first point past the start is never the end.
    if (flowSquared(column, middle) > 0) moving = middle;
    else spent = middle;
  }
  return moving;
}

/** The unsteady water phase as arcs over square roots of volume, in which start and end are smooth. */
export function columnArcs(column: Column): readonly Arc[] {
  const start_m3 = column.shot.airVolume_m3;
  const end_m3 = columnEnd_m3(column);
  // The start is forgotten after a dozen times 1/β of the column; beyond it nothing is steep.
  const settled_m3 = inertia_m3(column, start_m3) * -Math.expm1(-12 / column.memory);
  const joint_m3 = Math.min(start_m3 + settled_m3, (start_m3 + end_m3) / 2);
  const arcs: Arc[] = [];
  const roots = (length_m3: number, parts: number) =>
    Array.from({ length: parts + 1 }, (_, i) => (Math.sqrt(length_m3) * i) / parts);
  for (const [from, to] of pairs(roots(joint_m3 - start_m3, 3))) {
    arcs.push(columnArc(column, from, to, (root) => start_m3 + root * root, 1));
  }
  for (const [from, to] of pairs(roots(end_m3 - joint_m3, 3).reverse())) {
    arcs.push(columnArc(column, from, to, (root) => end_m3 - root * root, -1));
  }
  return arcs;
}

const pairs = (list: readonly number[]) => list.slice(1).map((to, i) => [list[i]!, to] as const);

function columnArc(
  column: Column,
  from: number,
  to: number,
  volume: (root: number) => number,
  sign: 1 | -1,
): Arc {
  const { density_kg_m3, bottleVolume_m3 } = column.shot;
  return {
    phase: "water",
    from,
    to,
    at: (root, moment) => {
      const airVolume_m3 = volume(root);
      const state = columnState(column, airVolume_m3);
      moment.timeRate_s = (sign * 2 * root) / state.flow_m3_s;
      moment.thrust_N = state.thrust_N;
      moment.water_kg = density_kg_m3 * (bottleVolume_m3 - airVolume_m3);
    },
  };
}
