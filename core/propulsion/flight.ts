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
  for (const arc of arcs) {
    for (const panel of panelsOf(arc, inputs.ridingMass_kg)) flight = alongPanel(panel, flight, inputs);
    flight = struck(arc, flight, inputs);
  }
  return flight;
}

function alongPanel(panel: Arc, start: Flight, inputs: Rider): Flight {
  const sample = sampled(panel, inputs);
  if (risesThroughout(sample, start, inputs)) return flown(sample, start);
  let flight = start;
  for (const piece of piecesOf(panel, inputs)) flight = alongPiece(piece, flight, inputs);
  return flight;
}

/**
 * For nearly every shot: pushed up all along the arc, or already rising faster than gravity, and a
 * column that stops and pulls, can take away within it.
 */
function risesThroughout({ leastPush_m_s2, duration_s }: Sample, flight: Flight, inputs: Rider): boolean {
  if (flight.speed_m_s >= 0 && leastPush_m_s2 > 0) return true;
  const loss_m_s2 = Math.max(inputs.gravity_m_s2, -leastPush_m_s2);
  return !flight.standing && flight.speed_m_s > loss_m_s2 * duration_s;
}

/** The impulse at an arc's end; the ground gives no way to one that points down. */
function struck(arc: Arc, flight: Flight, { ridingMass_kg }: Rider): Flight {
  const { endImpulse_Ns = 0 } = arc;
  if (endImpulse_Ns === 0 || (flight.standing && endImpulse_Ns < 0)) return flight;
  return {
    speed_m_s: flight.speed_m_s + endImpulse_Ns / (ridingMass_kg + momentAt(arc, arc.to).water_kg),
    height_m: flight.height_m,
    greatest_m: Math.max(flight.greatest_m, flight.height_m),
    standing: false,
  };
}

/** Flight along a piece in which the push keeps its sign: it may go over the top, land, or do both. */
function alongPiece(piece: Piece, flight: Flight, inputs: Rider): Flight {
  if (flight.standing && !piece.pushes) return flight;
  const { arc } = piece;
  const until = (to: number) => advance({ ...arc, to }, flight, inputs);
  const end = until(arc.to);
  const turns = end.speed_m_s > 0 !== flight.speed_m_s > 0 && flight.speed_m_s !== 0;
  if (!piece.pushes) {
    const top = turns ? until(rootBetween(arc.from, arc.to, (to) => until(to).speed_m_s)) : flight;
    const greatest_m = Math.max(flight.greatest_m, top.height_m);
    return end.height_m < 0 ? { ...atRest, greatest_m } : { ...end, greatest_m };
  }
  // Falling while pushed up: lowest where the fall is stopped, or at the end where it is not.
  const lowest = turns ? rootBetween(arc.to, arc.from, (to) => until(to).speed_m_s) : arc.to;
  if (flight.standing || flight.speed_m_s >= 0 || until(lowest).height_m >= 0) return end;
  const landing = rootBetween(arc.from, lowest, (to) => until(to).height_m);
  return advance({ ...arc, from: landing }, { ...atRest, greatest_m: flight.greatest_m }, inputs);
}

/**
 * An arc cut in halves towards its end, once for each time that what leaves within it outweighs
 * twofold what is there at its end: 1/(M + m) has its pole just beyond, and one rule over all would
 * not see it come.
 */
function panelsOf(arc: Arc, ridingMass_kg: number): readonly Arc[] {
  const last_kg = momentAt(arc, arc.to).water_kg;
  const leaving_kg = momentAt(arc, arc.from).water_kg - last_kg;
  const cuts = Math.max(0, Math.ceil(Math.log2(leaving_kg / (ridingMass_kg + last_kg))));
  if (cuts === 0) return [arc];
  const edges = Array.from({ length: cuts + 1 }, (_, i) => arc.to + (arc.from - arc.to) * 2 ** -i);
  return edges.map((from, i) => ({ ...arc, from, to: edges[i + 1] ?? arc.to }));
}

const rule = gaussLegendre(20);
const running = runningIntegral(rule);

type Sample = {
  /** Speed gained and time taken at each node, before the rule's weights. */
  readonly gain: Float64Array;
  readonly duration: Float64Array;
  readonly duration_s: number;
  /** At the nodes and both ends. */
  readonly leastPush_m_s2: number;
};

function sampled(arc: Arc, inputs: Rider): Sample {
  const n = rule.nodes.length;
  const half = (arc.to - arc.from) / 2;
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  const gain = new Float64Array(n);
  const duration = new Float64Array(n);
  let duration_s = 0;
  let leastPush_m_s2 = Math.min(pushAt(arc, arc.from, inputs), pushAt(arc, arc.to, inputs));
  for (let k = 0; k < n; k++) {
    arc.at(arc.from + half * (1 + rule.nodes[k]!), moment);
    const push_m_s2 = acceleration_m_s2(moment, inputs);
    duration[k] = half * moment.timeRate_s;
    gain[k] = push_m_s2 * duration[k]!;
    duration_s += rule.weights[k]! * duration[k]!;
    leastPush_m_s2 = Math.min(leastPush_m_s2, push_m_s2);
  }
  return { gain, duration, duration_s, leastPush_m_s2 };
}

const advance = (arc: Arc, start: Flight, inputs: Rider) => flown(sampled(arc, inputs), start);

/** Speed and height at the arc's end, by the rule's own integrals; the height needs the speed at each node. */
function flown({ gain, duration }: Sample, start: Flight): Flight {
  const n = rule.nodes.length;
  let speed_m_s = start.speed_m_s;
  for (let k = 0; k < n; k++) speed_m_s += rule.weights[k]! * gain[k]!;
  let height_m = start.height_m;
  for (let k = 0; k < n; k++) {
    let speedAtNode_m_s = start.speed_m_s;
    for (let j = 0; j < n; j++) speedAtNode_m_s += running[k * n + j]! * gain[j]!;
    height_m += rule.weights[k]! * speedAtNode_m_s * duration[k]!;
  }
  return { speed_m_s, height_m, greatest_m: start.greatest_m, standing: false };
}

function momentAt(arc: Arc, variable: number): Moment {
  const moment: Moment = { timeRate_s: 0, thrust_N: 0, water_kg: 0 };
  arc.at(variable, moment);
  return moment;
}

type Forces = Pick<Moment, "thrust_N" | "water_kg">;

const acceleration_m_s2 = ({ thrust_N, water_kg }: Forces, { ridingMass_kg, gravity_m_s2 }: Rider) =>
  thrust_N / (ridingMass_kg + water_kg) - gravity_m_s2;

const pushAt = (arc: Arc, variable: number, inputs: Rider) =>
  acceleration_m_s2(momentAt(arc, variable), inputs);

type Piece = { readonly arc: Arc; readonly pushes: boolean };

/** Thrust over weight can fall below 1 and rise again, as a heavy load of water lightens: looked at so often in an arc. */
const looks = 64;

/** An arc cut where thrust and weight balance. */
function piecesOf(arc: Arc, inputs: Rider): readonly Piece[] {
  const push = (variable: number) => pushAt(arc, variable, inputs);
  const pieces: Piece[] = [];
  let from = arc.from;
  let before = arc.from;
  let pushes = push(arc.from) > 0;
  for (let k = 1; k <= looks; k++) {
    const here = arc.from + ((arc.to - arc.from) * k) / looks;
    if (push(here) > 0 !== pushes) {
      const balance = pushes ? rootBetween(before, here, push) : rootBetween(here, before, push);
      pieces.push({ arc: { ...arc, from, to: balance }, pushes });
      from = balance;
      pushes = !pushes;
    }
    before = here;
  }
  return [...pieces, { arc: { ...arc, from }, pushes }];
}

/**
 * Root of f between a point where f is positive and one where it is not, to some 1e-14 of the way
 * between. The regula falsi with Illinois's halving: each look is a whole flight along the arc, and
 * halves alone would ask for fifty.
 */
function rootBetween(positive: number, other: number, f: (x: number) => number): number {
  let [inside, outside] = [positive, other];
  let [above, below] = [f(positive), f(other)];
  let root = Infinity;
  let lastAbove: boolean | undefined;
  for (let step = 0; step < 60; step++) {
    const part = above > 0 && below < 0 ? above / (above - below) : 0.5;
    const next = inside + (outside - inside) * part;
    if (Math.abs(next - root) <= 1e-14 * Math.abs(other - positive)) return next;
    root = next;
    const value = f(root);
    const isAbove = value > 0;
    // The end that stays twice counts half, or it would stay for good.
    if (isAbove) [inside, above, below] = [root, value, lastAbove === true ? below / 2 : below];
    else [outside, below, above] = [root, value, lastAbove === false ? above / 2 : above];
    lastAbove = isAbove;
  }
  return root;
}
