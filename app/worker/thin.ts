/** A polyline ready to be drawn; NaN in y breaks it. */
export type Polyline = { readonly x: Float64Array; readonly y: Float64Array };

export type ThinView = {
  /** First and last index to draw, last included. */
  readonly first: number;
  readonly last: number;
  /** Pixel columns of the picture. */
  readonly columns: number;
};

/**
 * Thins a trace to what a screen can show: the first, least, greatest and last sample of each pixel column, in
 * their order, which paints the same pixels as every sample would. A gap (NaN) stays a gap: it breaks the line
 * where it stands. Where there are no more samples than that, all are given.
 * @param time_s  rising, or not given for samples `step_s` apart from `start_s`
 */
export function thin(
  value: ArrayLike<number>,
  timeAt_s: (index: number) => number,
  { first, last, columns }: ThinView,
): Polyline {
  const samples = last - first + 1;
  if (samples <= 0 || columns <= 0) return { x: new Float64Array(0), y: new Float64Array(0) };
  const perColumn = samples / columns;
  if (perColumn <= 4) return all(value, timeAt_s, first, last);
  const x = new Float64Array(5 * columns);
  const y = new Float64Array(5 * columns);
  let count = 0;
  const put = (index: number) => {
    x[count] = timeAt_s(index);
    y[count] = value[index]!;
    count += 1;
  };
  for (let column = 0; column < columns; column++) {
    const from = first + Math.round(column * perColumn);
    const to = first + Math.round((column + 1) * perColumn) - 1;
    for (const index of keptIn(value, from, to)) put(index);
  }
  return { x: x.slice(0, count), y: y.slice(0, count) };
}

/** Indices kept of one column, rising and each once; the first missing sample too, so that the line breaks. */
function keptIn(value: ArrayLike<number>, from: number, to: number): readonly number[] {
  let least = -1;
  let greatest = -1;
  let missing = -1;
  for (let i = from; i <= to; i++) {
    const here = value[i]!;
    if (Number.isNaN(here)) {
      if (missing < 0) missing = i;
      continue;
    }
    if (least < 0 || here < value[least]!) least = i;
    if (greatest < 0 || here > value[greatest]!) greatest = i;
  }
  const kept = [from, least, greatest, missing, to].filter((index) => index >= 0).sort((a, b) => a - b);
  return kept.filter((index, k) => index !== kept[k - 1]);
}

function all(
  value: ArrayLike<number>,
  timeAt_s: (index: number) => number,
  first: number,
  last: number,
): Polyline {
  const x = new Float64Array(last - first + 1);
  const y = new Float64Array(last - first + 1);
  for (let i = first; i <= last; i++) {
    x[i - first] = timeAt_s(i);
    y[i - first] = value[i]!;
  }
  return { x, y };
}
