import {
  type BaselineFit,
  type BaselineKnowns,
  type ChannelPoints,
  fitBaseline,
  foretell,
} from "./baseline.ts";

/** Points of the tail by which the rest is foretold at first, and how much further each time. */
const firstPoints = 15;
const growth = 1.5;
/** This many points together stray by more than so many deviations: a hand, not the discharge. */
const together = 3;
const strays = 6;
const looseRelU = 0.5;

/**
 * How long the tail goes on as its own beginning says: zero, drift, discharge and level found in its first
 * points foretell the next ones, then those join. A push too gentle to be seen as a jump ends it.
 * @returns seconds from the stretch's start; Infinity where all of it belongs together
 */
export function stillUntil(points: readonly ChannelPoints[], knowns: BaselineKnowns): number {
  const lengths = points.map(({ after }) => after.reduce((sum, flag) => sum + flag, 0));
  const total = Math.min(...lengths);
  // A discharge time that is stated wrongly is another matter than a hand: here it may be half again as long.
  const inverses = knowns.inverses.map((known) =>
    typeof known === "object" ? { value: known.value, u: Math.max(known.u, looseRelU * known.value) } : known,
  );
  const free: BaselineKnowns = { inverses, impulses_Ns: knowns.impulses_Ns };
  for (let kept = firstPoints; kept < total; kept = Math.ceil(kept * growth)) {
    const cut = points.map((channel) => shortened(channel, kept));
    const fit = fitBaseline(cut, free);
    if (!fit.determined) return Number.POSITIVE_INFINITY;
    const until = Math.min(total, Math.ceil(kept * growth));
    for (let i = kept; i + together <= until; i++) {
      if (Math.abs(strayOf(points, fit, i)) > strays) return tailTime(points[0]!, i);
    }
  }
  return Number.POSITIVE_INFINITY;
}

const tailStart = ({ after }: ChannelPoints): number => after.indexOf(1);

const tailTime = (channel: ChannelPoints, i: number): number => channel.t_s[tailStart(channel) + i]!;

/** Tail points stand behind the quiet's, in order of time. */
function shortened(channel: ChannelPoints, kept: number): ChannelPoints {
  const end = tailStart(channel) + kept;
  return {
    t_s: channel.t_s.subarray(0, end),
    force_N: channel.force_N.subarray(0, end),
    integral_Ns: channel.integral_Ns.subarray(0, end),
    after: channel.after.subarray(0, end),
  };
}

/** How many deviations a few points from i on stand off what was foretold, all channels together. */
function strayOf(points: readonly ChannelPoints[], fit: BaselineFit, i: number): number {
  let off = 0;
  let variance = 0;
  for (const [c, channel] of points.entries()) {
    const start = tailStart(channel) + i;
    for (let j = start; j < start + together; j++) {
      off +=
        (channel.force_N[j]! - foretell(fit, c, channel.t_s[j]!, channel.integral_Ns[j]!).force_N) / together;
    }
    const middle = start + (together >> 1);
    const { u_N } = foretell(fit, c, channel.t_s[middle]!, channel.integral_Ns[middle]!);
    variance += u_N ** 2 + fit.scatter_N[c]! ** 2 / together;
  }
  return off / Math.sqrt(variance);
}
