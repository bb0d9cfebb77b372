/** One thing timed on this machine, now. */
export interface Measured {
  name: string;
  median_s: number;
  /** 95 of 100 runs were no slower. */
  p95_s: number;
  runs: number;
}

/** A module of tests/bench: times its own part of the house. */
export type Bench = () => Promise<Measured[]>;

/**
 * Times `work` after it has run warm. Its result is kept, or the compiler may leave the work out.
 * @param runs  how many counted runs
 */
export async function measure(name: string, runs: number, work: () => unknown): Promise<Measured> {
  const times_s: number[] = [];
  for (let run = -Math.ceil(runs / 4); run < runs; run++) {
    const start_ms = performance.now();
    kept = await work();
    if (run >= 0) times_s.push((performance.now() - start_ms) / 1000);
  }
  return sortedTimes(name, times_s);
}

/** The same figures for times that were taken elsewhere, such as inside a page. */
export function sortedTimes(name: string, times_s: readonly number[]): Measured {
  const sorted = [...times_s].sort((a, b) => a - b);
  return { name, median_s: at(sorted, 0.5), p95_s: at(sorted, 0.95), runs: sorted.length };
}

/** Where the last result went; nobody reads it. */
export let kept: unknown;

/** The smallest of the sorted values that at least this share does not exceed. */
function at(sorted: readonly number[], share: number): number {
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? 0;
}
