import { type LinearFit, leastSquares } from "../uncertainty/least-squares.ts";

/**
 * What is slow in a channel, found at once from the quiet before the event and the tail after it.
 * A drooping channel reads y = x − k∫(y − b − ct) dt + b + ct with k = 1/τ, zero b and drift c. Before
 * the event the force x is what an earlier push still discharges (`memory`), after it the memory plus
 * the level left behind. So
 *
 *   y = b(1 + kt) + c(t + kt²/2) + memory + level·(after) − k∫y dt,
 *
 * linear in b, c, memory, level and, for the last term, in k: no exponential is fitted and no starting
 * value is needed. A discharge time that is given, or a level that must come out, is one more row.
 */
export type ChannelPoints = {
  readonly t_s: Float64Array;
  /** Means over a period of mains hum, before and after the event. */
  readonly force_N: Float64Array;
  /** ∫y dt from t = 0, as read. */
  readonly integral_Ns: Float64Array;
  readonly after: Uint8Array;
};

/** 1/τ as given, with its standard uncertainty; "free" to fit it; "none" for a channel that holds. */
export type InverseKnown = { readonly value: number; readonly u: number } | "free" | "none";

export type BaselineKnowns = {
  readonly inverses: readonly InverseKnown[];
  /** What the levels of all channels must add up to; absent to let the record say. */
  readonly level?: { readonly value_N: number; readonly u_N: number };
  /** Impulse of each channel, roughly: the weight leaves the sensors in the shares of the thrust. */
  readonly impulses_Ns: readonly number[];
};

export type Baseline = {
  readonly zero_N: number;
  readonly drift_N_s: number;
  readonly memory_N: number;
  readonly inverse_1_s: number;
  readonly level_N: number;
};

export const baselineKeys = ["zero_N", "drift_N_s", "memory_N", "inverse_1_s", "level_N"] as const;
const p = baselineKeys.length;
const [zero, drift, memory, inverse, level] = [0, 1, 2, 3, 4];

export type BaselineFit = {
  readonly channels: readonly Baseline[];
  /** Covariance of `baselineKeys` of each channel in turn, row-major. */
  readonly covariance: Float64Array;
  readonly freedom: number;
  /** Standard deviation of one point about the fit, by channel. */
  readonly scatter_N: readonly number[];
  /** Weighted sum of squared residuals, and how much slow noise makes of a unit of variance. */
  readonly squares: number;
  readonly inflation: number;
  /** How many deviations the first points of the tail stand off the fit together: not still yet, if many. */
  readonly unrest: number;
  readonly determined: boolean;
};

/** Points of the tail by which it is seen to be still. */
const restPoints = 4;
/** Beyond this a drift is a fault of the recorder; the row only keeps a short quiet window in check. */
const drift_u_N_s = 0.5;
const memory_u_N = 2;
/** No channel worth recording with discharges much faster than in a fifth of a second. */
const freeInverse_u_1_s = 5;
/** How far the weight's shares may differ from the thrust's, where the fit needs to know. */
const shareRelU = 0.05;
/** Rounds that let k in the zero's own discharge settle; it enters only in products of small terms. */
const rounds = 5;
const settled_1_s = 1e-5;
/** Rows of prior knowledge for one channel, its share of the level included. */
const priorsAtMost = 6;

export function fitBaseline(points: readonly ChannelPoints[], knowns: BaselineKnowns): BaselineFit {
  const found = fitOnce(points, knowns);
  // A channel cannot charge itself: where noise would have it so, it holds.
  const charging = knowns.inverses.map((known, c) => known === "free" && found.channels[c]!.inverse_1_s < 0);
  if (!charging.includes(true)) return found;
  return fitOnce(points, { ...knowns, inverses: knowns.inverses.map((k, c) => (charging[c] ? "none" : k)) });
}

function fitOnce(points: readonly ChannelPoints[], knowns: BaselineKnowns): BaselineFit {
  const scatter = points.map((channel) => Math.max(pointScatter(channel), 1e-9));
  let inverses = knowns.inverses.map((known) => (typeof known === "object" ? known.value : 0));
  let fit: LinearFit | undefined;
  for (let round = 0; round < rounds; round++) {
    fit = solve(points, knowns, scatter, inverses);
    const next = points.map((_, c) => fit!.parameters[p * c + inverse]!);
    const moved = Math.max(...next.map((k, c) => Math.abs(k - inverses[c]!)));
    inverses = next;
    if (moved < settled_1_s) break;
  }
  const { parameters, residuals, determined } = fit!;
  const inflation = determined ? varianceInflation(points, residuals) : 1;
  return {
    channels: points.map((_, c) => ({
      zero_N: parameters[p * c + zero]!,
      drift_N_s: parameters[p * c + drift]!,
      memory_N: parameters[p * c + memory]!,
      inverse_1_s: parameters[p * c + inverse]!,
      level_N: parameters[p * c + level]!,
    })),
    covariance: fit!.inverse.map((x) => x * inflation),
    freedom: Math.max(1, points.reduce((sum, channel) => sum + channel.t_s.length, 0) - p * points.length),
    scatter_N: scatter,
    squares: fit!.squares,
    inflation,
    unrest: unrestOf(points, residuals),
    determined,
  };
}

/** What a fit costs more than a freer one of the same points, in squared deviations. */
export const costOver = (fit: BaselineFit, freer: BaselineFit): number =>
  (fit.squares - freer.squares) / freer.inflation;

/** What a channel should read in the tail, and how well the fit knows it. */
export function foretell(
  fit: BaselineFit,
  channel: number,
  t_s: number,
  integral_Ns: number,
): { readonly force_N: number; readonly u_N: number } {
  const { zero_N, drift_N_s, memory_N, inverse_1_s: k, level_N } = fit.channels[channel]!;
  const row = [1 + k * t_s, t_s + (k * t_s * t_s) / 2, 1, -integral_Ns, 1];
  const force_N = zero_N * row[0]! + drift_N_s * row[1]! + memory_N - k * integral_Ns + level_N;
  const n = p * fit.channels.length;
  const at = p * channel;
  let variance = 0;
  for (let i = 0; i < p; i++) {
    for (let j = 0; j < p; j++) variance += row[i]! * row[j]! * fit.covariance[(at + i) * n + at + j]!;
  }
  return { force_N, u_N: Math.sqrt(Math.max(0, variance)) };
}

function solve(
  points: readonly ChannelPoints[],
  knowns: BaselineKnowns,
  scatter: readonly number[],
  inverses: readonly number[],
): LinearFit {
  const n = p * points.length;
  const count =
    points.reduce((sum, channel) => sum + channel.t_s.length, 0) + priorsAtMost * points.length + 1;
  const design = new Float64Array(count * n);
  const observed = new Float64Array(count);
  let rows = 0;
  for (const [c, { t_s, force_N, integral_Ns, after }] of points.entries()) {
    const k = inverses[c]!;
    const weight = 1 / scatter[c]!;
    for (let i = 0; i < t_s.length; i++) {
      const t = t_s[i]!;
      const at = rows * n + p * c;
      design[at + zero] = weight * (1 + k * t);
      design[at + drift] = weight * (t + (k * t * t) / 2);
      design[at + memory] = weight;
      design[at + inverse] = -weight * integral_Ns[i]!;
      design[at + level] = weight * after[i]!;
      observed[rows++] = weight * force_N[i]!;
    }
  }
  const add = (value: number, u: number, entries: readonly (readonly [number, number])[]) => {
    for (const [index, factor] of entries) design[rows * n + index] = factor / u;
    observed[rows++] = value / u;
  };
  // What is known beforehand comes after all points, so that residuals keep the points' order.
  for (const [c, channel] of points.entries()) {
    const at = p * c;
    const known = knowns.inverses[c]!;
    add(0, drift_u_N_s, [[at + drift, 1]]);
    add(0, memory_u_N, [[at + memory, 1]]);
    if (known === "none") add(0, 1e-9, [[at + inverse, 1]]);
    else if (known !== "free") add(known.value, Math.max(known.u, 1e-9), [[at + inverse, 1]]);
    else add(0, freeInverse_u_1_s, [[at + inverse, 1]]);
    if (!channel.after.includes(1)) add(0, 1e3, [[at + level, 1]]);
    if (!channel.after.includes(0)) add(0, 1e2, [[at + zero, 1]]);
  }
  if (knowns.level !== undefined) addLevel(knowns.level, knowns.impulses_Ns, add);
  return leastSquares(design.subarray(0, rows * n), observed.subarray(0, rows), n);
}

function addLevel(
  known: { readonly value_N: number; readonly u_N: number },
  impulses_Ns: readonly number[],
  add: (value: number, u: number, entries: readonly (readonly [number, number])[]) => void,
) {
  const count = impulses_Ns.length;
  add(
    known.value_N,
    known.u_N,
    impulses_Ns.map((_, c) => [p * c + level, 1] as const),
  );
  const total = impulses_Ns.reduce((a, b) => a + b, 0);
  for (let c = 0; c < count && count > 1; c++) {
    const share = impulses_Ns[c]! / total;
    const u = shareRelU * Math.max(Math.abs(known.value_N), 1e-3) * Math.max(Math.abs(share), 0.05);
    add(
      0,
      u,
      impulses_Ns.map((_, k) => [p * k + level, (k === c ? 1 : 0) - share] as const),
    );
  }
}

function unrestOf(points: readonly ChannelPoints[], residuals: Float64Array): number {
  let sum = 0;
  let n = 0;
  let at = 0;
  for (const { after } of points) {
    const first = after.indexOf(1);
    for (let i = first; first >= 0 && i < Math.min(after.length, first + restPoints); i++) {
      sum += residuals[at + i]!;
      n++;
    }
    at += after.length;
  }
  return n > 0 ? Math.abs(sum) / Math.sqrt(n) : 0;
}

/** From the differences of neighbours, so that neither drift nor discharge counts as noise. */
function pointScatter({ t_s, force_N, after }: ChannelPoints): number {
  const squares: number[] = [];
  for (let i = 1; i < t_s.length; i++) {
    if (after[i] === after[i - 1]) squares.push((force_N[i]! - force_N[i - 1]!) ** 2 / 2);
  }
  if (squares.length === 0) return 1;
  squares.sort((a, b) => a - b);
  const mean = squares.reduce((a, b) => a + b, 0) / squares.length;
  // The median of a chi-square with one degree is 0.455: a few disturbed points do not raise it.
  const robust = squares[squares.length >> 1]! / 0.455;
  return Math.sqrt(squares.length > 8 ? Math.min(mean, 3 * robust) : mean);
}

/**
 * Slow noise makes neighbours alike and a mean less certain than its points suggest.
 * @source variance of the mean of a first-order autoregression: (1 + r)/(1 − r) times that of white noise
 */
function varianceInflation(points: readonly ChannelPoints[], residuals: Float64Array): number {
  let product = 0;
  let square = 0;
  let n = 0;
  let at = 0;
  for (const channel of points) {
    for (let i = 0; i < channel.t_s.length; i++) {
      const r = residuals[at + i]!;
      square += r * r;
      n++;
      if (i > 0 && channel.after[i] === channel.after[i - 1]) product += r * residuals[at + i - 1]!;
    }
    at += channel.t_s.length;
  }
  if (n < 8 || square === 0) return 2;
  const r = Math.max(0, Math.min(0.8, product / square));
  return Math.max(1, square / n) * ((1 + r) / (1 - r));
}
