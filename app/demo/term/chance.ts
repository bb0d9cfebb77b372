/** Chance that repeats: the same seed makes the same term on every machine (mulberry32). */
export type Chance = {
  /** Uniform in [0, 1). */
  readonly next: () => number;
  /** Standard normal. */
  readonly normal: () => number;
  readonly between: (least: number, greatest: number) => number;
};

export function chance(seed: number): Chance {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    next,
    // Box and Muller; 1 - u keeps the logarithm finite.
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
    between: (least, greatest) => least + (greatest - least) * next(),
  };
}
