import { type Relaxation, relaxation, relaxedAt } from "./relaxation.ts";
import { type Column, driveAt_Pa } from "./unsteady-start.ts";

/**
 * The flow of a column over its whole phase, solved once and then read at any volume: what a throw
 * needs, which asks at a hundred volumes and must not cost more than the prediction around it.
 * With Y = (ρ/2) ζ Q²/A_j², the part of the drive that the jet has taken up, and x = ln V,
 *
 *   dY/dx = β V (D - Y)/(K A_s²)
 *
 * which is the equation of unsteady-start.ts. Y runs from 0 after D and reaches it within some 1/β of
 * the column: a stretch of that length is solved apart, the rest is as smooth as D.
 */
export type ColumnFlow = {
  readonly column: Column;
  /** Swept when the start is forgotten. */
  readonly settled_m3: number;
  /** Swept when the phase ends: all the water, or less where the column comes to rest before. */
  readonly end_m3: number;
  readonly emptied: boolean;
  /** Swept where the first stretch ends, and x from there, and x over the second. */
  readonly joint: Joint;
  readonly stretches: readonly [Relaxation, Relaxation];
};

type Joint = { readonly swept_m3: number; readonly first: number; readonly second: number };

/** exp(-16) of the start's lag is left. */
const forgotten = 16;

/**
 * Released at once, from rest.
 * @param column  with water in it
 * @source docs/model.md#throw; checked in tests/core/propulsion/column-flow.test.ts
 */
export function columnFlow(column: Column): ColumnFlow {
  const { shot, memory } = column;
  const settled_m3 = inertiaAfter_m3(column, 0) * -Math.expm1(-forgotten / memory);
  const joint = jointAt(column, Math.min(settled_m3, shot.waterVolume_m3 / 2));
  const first = stretch(column, 0, joint.first, 0);
  const second = stretch(column, joint.first, joint.second, relaxedAt(first, 1));
  const running: ColumnFlow = {
    column,
    settled_m3,
    end_m3: shot.waterVolume_m3,
    emptied: true,
    joint,
    stretches: [first, second],
  };
  return relaxedAt(second, 1) > 0 ? running : { ...running, end_m3: restAfter_m3(running), emptied: false };
}

/** Y when so much is swept; to 1e-6 of the drive, below zero past the point where the column rests. */
export function takenUp_Pa({ column, joint, stretches }: ColumnFlow, swept_m3: number): number {
  const x = Math.log1p(swept_m3 / column.shot.airVolume_m3);
  return swept_m3 < joint.swept_m3
    ? relaxedAt(stretches[0], x / joint.first)
    : relaxedAt(stretches[1], (x - joint.first) / joint.second);
}

/** K A_s² when so much is swept; no digits lost for little water. */
const inertiaAfter_m3 = (column: Column, swept_m3: number) =>
  column.shot.waterVolume_m3 - swept_m3 + column.neckInertia_m3;

function jointAt({ shot }: Column, swept_m3: number): Joint {
  const rest_m3 = shot.waterVolume_m3 - swept_m3;
  return {
    swept_m3,
    first: Math.log1p(swept_m3 / shot.airVolume_m3),
    second: Math.log1p(rest_m3 / (shot.airVolume_m3 + swept_m3)),
  };
}

function stretch(column: Column, from: number, length: number, start_Pa: number): Relaxation {
  const start_m3 = column.shot.airVolume_m3;
  const swept = (t: number) => start_m3 * Math.expm1(from + t * length);
  return relaxation({
    length,
    start: start_Pa,
    rate: (t) => (column.memory * (start_m3 + swept(t))) / inertiaAfter_m3(column, swept(t)),
    target: (t) => driveAt_Pa(column.shot, start_m3 + swept(t)),
  });
}

/** Y starts at exactly 0 and rises: the first point past the start is never the end. */
function restAfter_m3(flow: ColumnFlow): number {
  let [moving, spent] = [0, flow.end_m3];
  for (let step = 0; step < 60; step++) {
    const middle = (moving + spent) / 2;
    if (takenUp_Pa(flow, middle) > 0) moving = middle;
    else spent = middle;
  }
  return moving;
}
