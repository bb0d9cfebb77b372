import type { Conditioned } from "./condition.ts";
import { noise } from "./marks.ts";
import type { EventWindow } from "./window.ts";

/** What another channel says about one that stood at its limit. */
export type StandIn = {
  readonly other: number;
  /** The clipped channel's force over the other's. */
  readonly ratio: number;
  readonly u_ratio: number;
  /** Force to take where the channel is clipped. */
  readonly force_N: Float64Array;
  /** Standard uncertainty of the area for what the ratio does not explain. */
  readonly u_Ns: number;
};

/** Strays of more than this part of the force leave nothing to rebuild by. */
const greatestScatter = 0.45;
/** Rocking raised the samples at the limit by as much as it makes others stray. */
const oneSided = 1;
/** Rocking dies away: what it does soon after the last sample at the limit is what it did there. */
const soon_s = 0.01;
const leastSamples = 10;
const leastPartAfter = 0.15;
/** What the ratio leaves in the push over what it leaves in the quiet before: more is the frame rocking. */
const rockingVariance = 9;

/**
 * The other channel times its share. A frame that rocks between the two makes single samples stray from
 * that, and samples at the limit are those that rocking raised: the doubt counts over all of them.
 * @returns undefined where every other channel is clipped at the same time, or disagrees
 */
export function standIn(
  window: EventWindow,
  channels: readonly Conditioned[],
  clipped: number,
): StandIn | undefined {
  const limits = window.channels[clipped]!.clipped!;
  let best: StandIn | undefined;
  for (let other = 0; other < channels.length; other++) {
    const theirs = window.channels[other]!.clipped;
    // At a moment when both stand at their limits neither can stand in for the other.
    if (other === clipped || theirs?.some((flag, i) => flag === 1 && limits[i] === 1)) continue;
    const own = channels[clipped]!.force_N;
    const soon = Math.round(soon_s * window.rate_Hz);
    const share = shareOf(own, channels[other]!.force_N, limits, window.from, window.to, soon);
    if (share === undefined || (best !== undefined && best.u_ratio / best.ratio <= share.u / share.ratio))
      continue;
    const count = limits.reduce((sum, flag) => sum + flag, 0);
    best = {
      other,
      ratio: share.ratio,
      u_ratio: share.u,
      force_N: channels[other]!.force_N.map((x) => x * share.ratio),
      u_Ns: (oneSided * share.scatter_N * count) / window.rate_Hz,
    };
  }
  return best;
}

/**
 * The ratio is that of all samples below the limit; where the frame rocks between the channels, that of the
 * areas after the last sample at the limit, in which rocking averages out.
 */
function shareOf(
  clipped: Float64Array,
  other: Float64Array,
  limits: Uint8Array,
  from: number,
  to: number,
  soon: number,
): { readonly ratio: number; readonly u: number; readonly scatter_N: number } | undefined {
  const all = { xy: 0, xx: 0, yy: 0, n: 0 };
  const after = { x: 0, y: 0, n: 0 };
  const lastLimit = limits.lastIndexOf(1);
  let total = 0;
  for (let i = from; i < to; i++) {
    total += other[i]!;
    if (limits[i] === 1) continue;
    all.xy += clipped[i]! * other[i]!;
    all.xx += other[i]! ** 2;
    all.yy += clipped[i]! ** 2;
    all.n++;
    if (i <= lastLimit) continue;
    after.x += other[i]!;
    after.y += clipped[i]!;
    after.n++;
  }
  if (all.n < leastSamples || !(all.xx > 0)) return undefined;
  const bySamples = all.xy / all.xx;
  const byAreas = after.y / after.x;
  const enough = after.n >= leastSamples && after.x > leastPartAfter * total;
  const stray = Math.max(0, all.yy - bySamples * all.xy) / (all.n - 1);
  // Residuals ring, so neighbours are alike: a tenth of them count as independent.
  const u_samples = Math.sqrt((10 * stray) / all.xx);
  const rocks = stray > rockingVariance * quietVariance(clipped, other, bySamples, from);
  const ratio = rocks && enough ? byAreas : bySamples;
  const residual = Math.max(0, all.yy - 2 * ratio * all.xy + ratio ** 2 * all.xx) / (all.n - 1);
  if (!(ratio > 0) || residual > greatestScatter ** 2 * (all.yy / all.n)) return undefined;
  const u = rocks && enough ? Math.min(0.3 * Math.abs(byAreas - bySamples), 0.01 * ratio) : u_samples;
  return { ratio, u, scatter_N: scatterBetween(clipped, other, limits, ratio, soon) ?? Math.sqrt(residual) };
}

/** How far samples stray from the ratio while the channel is at its limit now and again, and soon after. */
function scatterBetween(
  clipped: Float64Array,
  other: Float64Array,
  limits: Uint8Array,
  ratio: number,
  soon: number,
): number | undefined {
  let square = 0;
  let n = 0;
  for (let i = limits.indexOf(1); i <= Math.min(limits.length - 1, limits.lastIndexOf(1) + soon); i++) {
    if (limits[i] === 1) continue;
    square += (clipped[i]! - ratio * other[i]!) ** 2;
    n++;
  }
  return n >= leastSamples ? Math.sqrt(square / n) : undefined;
}

function quietVariance(clipped: Float64Array, other: Float64Array, ratio: number, from: number): number {
  const rest = Float64Array.from({ length: from }, (_, i) => clipped[i]! - ratio * other[i]!);
  return noise(rest, rest.length).deviation ** 2;
}
