/** Samples at which a channel stood at its limit. */
export type Clipping = {
  readonly count: number;
  /** The limits in the file's own unit; absent where the channel never reached one. */
  readonly above?: number;
  readonly below?: number;
};

export type Extremes = { readonly least: number; readonly greatest: number };

export function extremesOf(values: Float64Array): Extremes {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const x = values[i]!;
    if (x < least) least = x;
    if (x > greatest) greatest = x;
  }
  return { least, greatest };
}

const none: Clipping = { count: 0 };
/** A limit is flat to the last digit, and met again and again or held. */
const leastRepeats = 3;
const leastAway = 0.15;

/**
 * Finds a limit by its signature: the record's extreme value, repeated to the last digit where the
 * signal around it moves by far more than the print's last digit.
 */
export function findClipping(values: Float64Array, { least, greatest }: Extremes): Clipping {
  if (!(greatest > least)) return none;
  // The extremes of noise repeat as well; a limit stands well away from where the channel rests.
  const rest = middleOf(values);
  const away = leastAway * (greatest - least);
  const above = greatest - rest > away ? limitAt(values, greatest) : undefined;
  const below = rest - least > away ? limitAt(values, least) : undefined;
  return {
    count: (above ?? 0) + (below ?? 0),
    ...(above !== undefined && { above: greatest }),
    ...(below !== undefined && { below: least }),
  };
}

/** How many samples stand at a limit; undefined where the extreme is only the signal's own. */
function limitAt(values: Float64Array, extreme: number): number | undefined {
  const found = repeats(values, extreme);
  return isLimit(values, extreme, found) ? found.count : undefined;
}

type Repeats = { readonly count: number; readonly longest: number; readonly first: number };

function repeats(values: Float64Array, limit: number): Repeats {
  let count = 0;
  let longest = 0;
  let run = 0;
  let first = -1;
  for (let i = 0; i < values.length; i++) {
    if (values[i] !== limit) {
      run = 0;
      continue;
    }
    if (first < 0) first = i;
    count++;
    run++;
    if (run > longest) longest = run;
  }
  return { count, longest, first };
}

/**
 * Coarse steps make natural peaks flat too: a limit is met by a signal that arrives in larger strides. Two
 * samples alone may be the two sides of a peak, which only a fine print makes unlikely.
 */
function isLimit(values: Float64Array, limit: number, found: Repeats): boolean {
  if (found.count < leastRepeats && found.longest < 2) return false;
  const quantum = quantumNear(values, found.first) * (found.count < leastRepeats ? 3000 : 3);
  let strides = 0;
  let entries = 0;
  for (let i = 1; i < values.length; i++) {
    if (values[i] !== limit || values[i - 1] === limit || Number.isNaN(values[i - 1]!)) continue;
    entries++;
    // How far the signal came in one step, or would have gone by its last stride.
    const stride = Math.abs(limit - values[i - 1]!);
    const before = i > 1 && !Number.isNaN(values[i - 2]!) ? Math.abs(values[i - 1]! - values[i - 2]!) : 0;
    if (Math.max(stride, before) > quantum) strides++;
  }
  return entries > 0 && strides >= 0.5 * entries;
}

/** The smallest step between neighbouring samples around a place: the print's or the converter's last digit. */
function quantumNear(values: Float64Array, at: number): number {
  let quantum = Number.POSITIVE_INFINITY;
  for (let i = Math.max(1, at - 500); i < Math.min(values.length, at + 500); i++) {
    const step = Math.abs(values[i]! - values[i - 1]!);
    if (step > 0 && step < quantum) quantum = step;
  }
  return Number.isFinite(quantum) ? quantum : 0;
}

/** Median of at most some hundred strided values. */
function middleOf(values: Float64Array): number {
  const stride = Math.max(1, Math.floor(values.length / 400));
  const look: number[] = [];
  for (let i = 0; i < values.length; i += stride) if (!Number.isNaN(values[i]!)) look.push(values[i]!);
  return Float64Array.from(look).sort()[look.length >> 1] ?? 0;
}
