import type { Arc, Moment } from "./burn-arcs.ts";
import { gaussLegendre, runningIntegral } from "./gauss-legendre.ts";

/** What a burn does to the mass that rides on it when nothing holds. Estimates, never limits. */
export type Throw = {
  /** Upwards, at the end of thrust; negative where it is already falling, 0 where it stands. */
  readonly speed_m_s: number;
  /** Greatest height, straight up, without drag. */
  readonly height_m: number;
  /** (I/M)²/2g: all the impulse at once, no weight lost to the water. For exclusion. */
  readonly heightBound_m: number;
  /** (I/M)²/g: the same impulse at 45°. For exclusion. */
  readonly rangeBound_m: number;
};

export type ThrowInputs = {
  /** Flies if nothing holds: bottle included, water not. */
  readonly ridingMass_kg: number;
  readonly impulse_Ns: number;
  readonly gravity_m_s2: number;
};

/**
 * Straight up from the stand with every restraint open: dv/dt = T/(M + m) - g, from the moment the
 * thrust exceeds the weight. The thrust is that of the bottle at rest.
 * @param arcs  the burn in order of time
 * @source docs/model.md#throw; checked in tests/reference/prediction-throw.reference.test.ts
 */
export function throwOf(arcs: readonly Arc[], inputs: ThrowInputs): Throw {
  const boundSpeed_m_s = inputs.impulse_Ns / inputs.ridingMass_kg;
  const flight = flightOf(arcs, inputs);
  const coast_m = flight.speed_m_s > 0 ? flight.speed_m_s ** 2 / (2 * inputs.gravity_m_s2) : 0;
  return {
    speed_m_s: flight.speed_m_s,
    height_m: Math.max(flight.greatest_m, flight.height_m + coast_m),
    heightBound_m: boundSpeed_m_s ** 2 / (2 * inputs.gravity_m_s2),
    rangeBound_m: boundSpeed_m_s ** 2 / inputs.gravity_m_s2,
  };
}

type Flight = {
  readonly speed_m_s: number;
  readonly height_m: number;
  readonly greatest_m: number;
  readonly standing: boolean;
};

function flightOf(arcs: readonly Arc[], inputs: ThrowInputs): Flight {
  let flight: Flight = { speed_m_s: 0, height_m: 0, greatest_m: 0, standing: true };
  for (const arc of arcs.flatMap((whole) => panelsOf(whole, inputs.ridingMass_kg))) {
    const from = flight.standing ? liftOff(arc, inputs) : arc.from;
    if (from === undefined) continue;
    const end = advance(arc, from, arc.to, flight, inputs);
    if (end.speed_m_s < 0 && flight.speed_m_s >= 0) {
      // Over the top within this arc: a heavy stand that thrust could lift at first and then not.
      const top = bisect(from, arc.to, (to) => advance(arc, from, to, flight, inputs).speed_m_s);
      const greatest_m = advance(arc, from, top, flight, inputs).height_m;
      flight = { ...end, greatest_m };
    } else flight = { ...end, greatest_m: flight.greatest_m };
    if (flight.height_m < 0) return { ...flight, speed_m_s: 0, height_m: 0, standing: true };
  }
  return flight;
}

/**
 * An arc cut in halves towards its end, once for each time that the water outweighs the riding mass
 * twofold: 1/(M + m) has its pole just beyond the end, and one rule over all would not see it come.
 */
function panelsOf(arc: Arc, ridingMass_kg: number): readonly Arc[] {
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  arc.at(arc.from, moment);
  const cuts = Math.max(0, Math.ceil(Math.log2(moment.water_kg / ridingMass_kg)));
  if (cuts === 0) return [arc];
  const edges = Array.from({ length: cuts + 1 }, (_, i) => arc.to + (arc.from - arc.to) * 2 ** -i);
  return edges.map((from, i) => ({ ...arc, from, to: edges[i + 1] ?? arc.to }));
}

const rule = gaussLegendre(20);
const running = runningIntegral(rule);

/** Speed and height at `to`, by the rule's own integrals; speeds are needed at each node for the height. */
function advance(arc: Arc, from: number, to: number, start: Flight, inputs: ThrowInputs): Flight {
  const n = rule.nodes.length;
  const half = (to - from) / 2;
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  const gain = new Float64Array(n);
  const duration = new Float64Array(n);
  let speed_m_s = start.speed_m_s;
  for (let k = 0; k < n; k++) {
    arc.at(from + half * (1 + rule.nodes[k]!), moment);
    duration[k] = half * moment.timeRate_s;
    gain[k] = acceleration_m_s2(moment, inputs) * duration[k]!;
    speed_m_s += rule.weights[k]! * gain[k]!;
  }
  let height_m = start.height_m;
  for (let k = 0; k < n; k++) {
    let speedAtNode_m_s = start.speed_m_s;
    for (let j = 0; j < n; j++) speedAtNode_m_s += running[k * n + j]! * gain[j]!;
    height_m += rule.weights[k]! * speedAtNode_m_s * duration[k]!;
  }
  return { speed_m_s, height_m, greatest_m: start.greatest_m, standing: false };
}

const acceleration_m_s2 = ({ thrust_N, water_kg }: Moment, { ridingMass_kg, gravity_m_s2 }: ThrowInputs) =>
  thrust_N / (ridingMass_kg + water_kg) - gravity_m_s2;

/** Where the thrust first exceeds the weight: mostly at once, later where the water must lighten first. */
function liftOff(arc: Arc, inputs: ThrowInputs): number | undefined {
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  const acceleration = (variable: number) => {
    arc.at(variable, moment);
    return acceleration_m_s2(moment, inputs);
  };
  if (acceleration(arc.from) > 0) return arc.from;
  const steps = 64;
  for (let k = 1; k <= steps; k++) {
    const here = arc.from + ((arc.to - arc.from) * k) / steps;
    if (acceleration(here) > 0) {
      const before = arc.from + ((arc.to - arc.from) * (k - 1)) / steps;
      return bisect(here, before, acceleration);
    }
  }
  return undefined;
}

/** Root of f between a point where f is positive and one where it is not, to the last digit. */
function bisect(positive: number, other: number, f: (x: number) => number): number {
  let [inside, outside] = [positive, other];
  for (let step = 0; step < 60; step++) {
    const middle = (inside + outside) / 2;
    if (f(middle) > 0) inside = middle;
    else outside = middle;
  }
  return inside;
}
