/** Round levels between two values, about `count` of them: steps of 1, 2 or 5 times a power of ten. */
export function roundLevels(least: number, greatest: number, count: number): readonly number[] {
  const span = greatest - least;
  if (!(span > 0) || !Number.isFinite(span)) return [];
  const rough = span / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5].find((factor) => factor * power >= rough) ?? 10);
  const levels: number[] = [];
  for (let k = Math.ceil(least / step); k * step <= greatest; k++)
    levels.push(Number((k * step).toPrecision(12)));
  return levels;
}

export type MapGrid = {
  /** Row after row from the least y. */
  readonly values: Float64Array;
  readonly x: readonly number[];
  readonly y: readonly number[];
};

export type LevelLabel = { readonly x: number; readonly y: number; readonly level: number };

/** Columns of the map along which labels are put, as parts of its width: the first that a line crosses well counts. */
const uprights = [0.72, 0.28, 0.5, 0.88, 0.12] as const;

/**
 * One label for each height line, where the line crosses one of a few uprights, so that labels stand in columns
 * and are read like a scale; a line that keeps clear of all of them stays without.
 * @param apart  least distance between two labels, as a part of the map's height
 */
export function levelLabels(grid: MapGrid, levels: readonly number[], apart = 0.055): readonly LevelLabel[] {
  const labels: LevelLabel[] = [];
  const height = grid.y.at(-1)! - grid.y[0]!;
  for (const level of levels) {
    const spots = uprights.flatMap((part) => crossings(grid, Math.round(part * (grid.x.length - 1)), level));
    const free = spots.find(
      (spot) =>
        spot.y > grid.y[0]! + 0.03 * height &&
        spot.y < grid.y.at(-1)! - 0.03 * height &&
        labels.every((other) => other.x !== spot.x || Math.abs(other.y - spot.y) > apart * height),
    );
    if (free) labels.push(free);
  }
  return labels;
}

function crossings({ values, x, y }: MapGrid, column: number, level: number): LevelLabel[] {
  const found: LevelLabel[] = [];
  for (let row = 1; row < y.length; row++) {
    const below = values[(row - 1) * x.length + column]! - level;
    const above = values[row * x.length + column]! - level;
    if (!(below < 0 !== above < 0)) continue;
    const part = below / (below - above);
    found.push({ x: x[column]!, y: y[row - 1]! + part * (y[row]! - y[row - 1]!), level });
  }
  return found;
}
