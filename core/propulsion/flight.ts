import type { Arc, Moment } from "./burn-arcs.ts";
import { gaussLegendre, runningIntegral } from "./gauss-legendre.ts";

export type Rider = {
  /** Flies if nothing holds: bottle included, water not. */
  readonly ridingMass_kg: number;
  readonly gravity_m_s2: number;
};

export type Flight = {
  readonly speed_m_s: number;
  readonly height_m: number;
  readonly greatest_m: number;
  /** On the ground, which gives no more way than the stand does. */
  readonly standing: boolean;
};

const atRest: Flight = { speed_m_s: 0, height_m: 0, greatest_m: 0, standing: true };

/**
 * From rest on the stand to the end of the last arc, straight up. The ground holds: what comes down
 * on it stands, and rises again where the thrust exceeds the weight once more.
 * @param arcs  the burn in order of time
 */
export function flightOf(arcs: readonly Arc[], inputs: Rider): Flight {
  let flight = atRest;
  for (const arc of arcs.flatMap((whole) => panelsOf(whole, inputs.ridingMass_kg))) {
    if (risesThroughout(arc, flight, inputs)) flight = advance(arc, flight, inputs);
    else for (const piece of piecesOf(arc, inputs)) flight = alongPiece(piece, flight, inputs);
  }
  return flight;
}

/**
 * Cheap and on the safe side, for nearly every shot: in an arc both thrust and water only fall, so
 * that the last thrust over the first weight is the least push; and what already rises faster than
 * gravity takes away within the arc cannot fall in it.
 */
function risesThroughout(arc: Arc, flight: Flight, inputs: Rider): boolean {
  const { thrust_N } = momentAt(arc, arc.to);
  const { water_kg } = momentAt(arc, arc.from);
  if (flight.speed_m_s >= 0 && acceleration_m_s2({ thrust_N, water_kg }, inputs) > 0) return true;
  return !flight.standing && flight.speed_m_s > inputs.gravity_m_s2 * durationOf_s(arc);
}

/** Flight along a piece in which the push keeps its sign: it may go over the top, land, or do both. */
function alongPiece(piece: Piece, flight: Flight, inputs: Rider): Flight {
  if (flight.standing && !piece.pushes) return flight;
  const { arc } = piece;
  const until = (to: number) => advance({ ...arc, to }, flight, inputs);
  const end = until(arc.to);
  const turns = end.speed_m_s > 0 !== flight.speed_m_s > 0 && flight.speed_m_s !== 0;
  if (!piece.pushes) {
    const top = turns ? until(bisect(arc.from, arc.to, (to) => until(to).speed_m_s)) : flight;
    const greatest_m = Math.max(flight.greatest_m, top.height_m);
    return end.height_m < 0 ? { ...atRest, greatest_m } : { ...end, greatest_m };
  }
  // Falling while pushed up: lowest where the fall is stopped, or at the end where it is not.
  const lowest = turns ? bisect(arc.to, arc.from, (to) => until(to).speed_m_s) : arc.to;
  if (flight.standing || flight.speed_m_s >= 0 || until(lowest).height_m >= 0) return end;
  const landing = bisect(arc.from, lowest, (to) => until(to).height_m);
  return advance({ ...arc, from: landing }, { ...atRest, greatest_m: flight.greatest_m }, inputs);
}

/**
 * An arc cut in halves towards its end, once for each time that the water outweighs the riding mass
 * twofold: 1/(M + m) has its pole just beyond the end, and one rule over all would not see it come.
 */
function panelsOf(arc: Arc, ridingMass_kg: number): readonly Arc[] {
  const { water_kg } = momentAt(arc, arc.from);
  const cuts = Math.max(0, Math.ceil(Math.log2(water_kg / ridingMass_kg)));
  if (cuts === 0) return [arc];
  const edges = Array.from({ length: cuts + 1 }, (_, i) => arc.to + (arc.from - arc.to) * 2 ** -i);
  return edges.map((from, i) => ({ ...arc, from, to: edges[i + 1] ?? arc.to }));
}

const rule = gaussLegendre(20);
const running = runningIntegral(rule);

/** Speed and height at the arc's end, by the rule's own integrals; the height needs the speed at each node. */
function advance(arc: Arc, start: Flight, inputs: Rider): Flight {
  const n = rule.nodes.length;
  const half = (arc.to - arc.from) / 2;
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  const gain = new Float64Array(n);
  const duration = new Float64Array(n);
  let speed_m_s = start.speed_m_s;
  for (let k = 0; k < n; k++) {
    arc.at(arc.from + half * (1 + rule.nodes[k]!), moment);
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

function durationOf_s(arc: Arc): number {
  const half = (arc.to - arc.from) / 2;
  let sum_s = 0;
  for (let k = 0; k < rule.nodes.length; k++) {
    sum_s += half * rule.weights[k]! * momentAt(arc, arc.from + half * (1 + rule.nodes[k]!)).timeRate_s;
  }
  return sum_s;
}

function momentAt(arc: Arc, variable: number): Moment {
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  arc.at(variable, moment);
  return moment;
}

type Forces = Pick<Moment, "thrust_N" | "water_kg">;

const acceleration_m_s2 = ({ thrust_N, water_kg }: Forces, { ridingMass_kg, gravity_m_s2 }: Rider) =>
  thrust_N / (ridingMass_kg + water_kg) - gravity_m_s2;

type Piece = { readonly arc: Arc; readonly pushes: boolean };

/** Thrust over weight can fall below 1 and rise again, as a heavy load of water lightens: looked at so often in an arc. */
const looks = 64;

/** An arc cut where thrust and weight balance. */
function piecesOf(arc: Arc, inputs: Rider): readonly Piece[] {
  const push = (variable: number) => acceleration_m_s2(momentAt(arc, variable), inputs);
  const pieces: Piece[] = [];
  let from = arc.from;
  let before = arc.from;
  let pushes = push(arc.from) > 0;
  for (let k = 1; k <= looks; k++) {
    const here = arc.from + ((arc.to - arc.from) * k) / looks;
    if (push(here) > 0 !== pushes) {
      const balance = pushes ? bisect(before, here, push) : bisect(here, before, push);
      pieces.push({ arc: { ...arc, from, to: balance }, pushes });
      from = balance;
      pushes = !pushes;
    }
    before = here;
  }
  return [...pieces, { arc: { ...arc, from }, pushes }];
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
