import type { ShotSetup } from "../exchange/setup-shot.ts";
import {
  type BaselineFit,
  type BaselineKnowns,
  baselineKeys,
  costOver,
  fitBaseline,
  type InverseKnown,
} from "./baseline.ts";
import type { Blocks } from "./blocks.ts";
import { type Conditioned, condition } from "./condition.ts";
import type { Switches } from "./corrections.ts";
import { type StandIn, standIn } from "./rebuild.ts";
import { stillUntil } from "./rest.ts";
import { baselinePoints, type Span } from "./span.ts";
import type { Trace } from "./trace.ts";
import type { EventWindow } from "./window.ts";

/** The channels' felt forces around an event, and how they were found. */
export type Separated = {
  readonly channels: readonly Conditioned[];
  /** The fit that the corrections use. */
  readonly fit: BaselineFit;
  /** The fit that was not told what level must come out: its level is the record's own quality figure. */
  readonly free: BaselineFit;
  /** True where `fit` was told the level. */
  readonly levelUsed: boolean;
  readonly expectedLevel_N: number;
  readonly standIns: readonly (StandIn | undefined)[];
  /** Channels at their limit that no other could rebuild. */
  readonly lost: readonly number[];
};

/** Water weighed in the field, and whether all of it left. */
const massRelU = 0.01;
/** Opening and pressure give the sealed bottle's force to a few per cent. */
const sealRelU = 0.04;
/** Rebuilding changes what the discharge has seen, which changes the rebuilding. */
const rounds = 3;
/** A level this many deviations from the expected one is the record's own affair and is not used. */
const disagreement = 4;

export function separate(
  trace: Trace,
  blocks: Blocks,
  span: Span,
  window: EventWindow,
  shot: ShotSetup,
  switches: Switches,
): Separated {
  const inverses = inversesOf(trace);
  const level = expectedLevel(shot, trace);
  let areas = window.channels.map(
    ({ force_N }) => sumOver(force_N, window.from, window.tail) / window.rate_Hz,
  );
  let fits = chosenFit(blocks, span, areas, inverses, level);
  let standIns: (StandIn | undefined)[] = window.channels.map(() => undefined);
  let channels = window.channels.map((_, c) => condition(window, c, fits.fit.channels[c]!, flags(switches)));
  const clipped = window.channels.flatMap(({ clipped }, c) => (clipped === undefined ? [] : [c]));
  for (let round = 0; switches.clipping && clipped.length > 0 && round < rounds; round++) {
    standIns = window.channels.map((_, c) =>
      clipped.includes(c) ? standIn(window, channels, c) : undefined,
    );
    channels = window.channels.map((_, c) =>
      condition(window, c, fits.fit.channels[c]!, flags(switches), standIns[c]?.force_N),
    );
    areas = channels.map((channel) => channel.area_Ns);
    fits = chosenFit(blocks, span, areas, inverses, level);
  }
  return {
    channels,
    ...fits,
    expectedLevel_N: level.value_N,
    standIns,
    lost: clipped.filter((c) => standIns[c] === undefined),
  };
}

const inversesOf = (trace: Trace): InverseKnown[] =>
  trace.channels.map(({ plan }) => {
    const time_s = plan.setup.dischargeTime_s;
    if (time_s === "fit") return "free";
    if (time_s === "none") return "none";
    return { value: 1 / time_s, u: plan.setup.dischargeTimeRelU / time_s };
  });

/**
 * What the block means alone say of a span's tail: quick, and near enough to choose the span by.
 * @returns the span with its tail only as long as it is of one piece, and how unrestful its beginning is
 */
export function surveyTail(
  trace: Trace,
  blocks: Blocks,
  span: Span,
  shot: ShotSetup,
): { readonly span: Span; readonly unrest: number } {
  const areas = blocks.means_N.map((means) => {
    let sum = 0;
    for (let b = span.from; b < span.tailFrom; b++) if (!Number.isNaN(means[b]!)) sum += means[b]!;
    return sum * blocks.step_s;
  });
  const knowns = { inverses: inversesOf(trace), impulses_Ns: areas };
  const pointsOf = (within: Span) => areas.map((area, c) => baselinePoints(blocks, c, within, area));
  const still_s = stillUntil(pointsOf(span), knowns);
  const tailTo = Math.min(span.tailTo, span.from + Math.floor(still_s / blocks.step_s));
  const kept = tailTo < span.tailTo ? { ...span, tailTo, disturbed: true } : span;
  const { unrest } = fitBaseline(pointsOf(kept), { ...knowns, level: expectedLevel(shot, trace) });
  return { span: kept, unrest };
}

const flags = (switches: Switches) => ({
  zero: switches.zero,
  discharge: switches.discharge,
  rebuild: switches.clipping,
});

/** What must be left on the stand when all is over: the weight gone, less the stopper's push if it was outside. */
export function expectedLevel(shot: ShotSetup, trace: Trace): { value_N: number; u_N: number } {
  const weight_N = shot.water_kg * shot.gravity_m_s2;
  const area_m2 = (Math.PI / 4) * shot.openingDiameter_m ** 2;
  const seal_N = shot.stopperHeld === "outside" ? area_m2 * shot.setPressure_Pa : 0;
  const sensitivity = Math.max(...trace.channels.map(({ plan }) => plan.setup.sensitivityRelU));
  const value_N = weight_N - seal_N;
  return { value_N, u_N: Math.hypot(massRelU * weight_N, sealRelU * seal_N, sensitivity * value_N, 0.01) };
}

function chosenFit(
  blocks: Blocks,
  span: Span,
  areas: readonly number[],
  inverses: readonly InverseKnown[],
  level: { readonly value_N: number; readonly u_N: number },
): { fit: BaselineFit; free: BaselineFit; levelUsed: boolean } {
  const points = areas.map((area, c) => baselinePoints(blocks, c, span, area));
  const knowns: BaselineKnowns = { inverses, impulses_Ns: areas };
  const free = fitBaseline(points, knowns);
  const told = fitBaseline(points, { ...knowns, level });
  // Being told the level costs misfit where the record knows better: then it is not told.
  const agrees = told.determined && (!free.determined || costOver(told, free) < disagreement ** 2);
  return agrees ? { fit: told, free, levelUsed: true } : { fit: free, free, levelUsed: false };
}

/** The levels' sum with its standard uncertainty. */
export function levelOf(fit: BaselineFit): { value_N: number; u_N: number } {
  const p = baselineKeys.length;
  const at = baselineKeys.indexOf("level_N");
  const n = fit.channels.length * p;
  let variance = 0;
  for (let a = 0; a < fit.channels.length; a++) {
    for (let b = 0; b < fit.channels.length; b++) variance += fit.covariance[(a * p + at) * n + b * p + at]!;
  }
  return {
    value_N: fit.channels.reduce((sum, c) => sum + c.level_N, 0),
    u_N: Math.sqrt(Math.max(0, variance)),
  };
}

function sumOver(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i]!;
  return sum;
}
