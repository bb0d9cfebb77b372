/**
 * Seeded pseudo-random numbers: core has no chance of its own, so an order drawn from a seed can be
 * drawn again by anyone who knows it. Good for shuffling runs; no good for secrets.
 *
 * xoshiro128** by Blackman and Vigna (public domain), seeded through splitmix32, 2^128 - 1 long.
 */
export type Random = {
  /** Uniform on the integers 0 to 2^32 - 1. */
  readonly next: () => number;
  /** Uniform on the integers 0 to `bound` - 1; `bound` from 1 to 2^32. */
  readonly below: (bound: number) => number;
};

const twoTo32 = 4_294_967_296;

/** @param seed  an integer; only its lowest 32 bits count */
export function randomFrom(seed: number): Random {
  const state = new Uint32Array(4);
  let mixing = seed >>> 0;
  for (let i = 0; i < 4; i++) {
    mixing = (mixing + 0x9e3779b9) >>> 0;
    let z = mixing;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    state[i] = z ^ (z >>> 16);
  }
  const next = () => {
    const result = Math.imul(rotateLeft(Math.imul(state[1]!, 5), 7), 9) >>> 0;
    const shifted = state[1]! << 9;
    state[2]! ^= state[0]!;
    state[3]! ^= state[1]!;
    state[1]! ^= state[2]!;
    state[0]! ^= state[3]!;
    state[2]! ^= shifted;
    state[3] = rotateLeft(state[3]!, 11);
    return result;
  };
  const below = (bound: number) => {
    // Draws past the last whole multiple would favour the small numbers: throw them away.
    const limit = twoTo32 - (twoTo32 % bound);
    let draw = next();
    while (draw >= limit) draw = next();
    return draw % bound;
  };
  return { next, below };
}

const rotateLeft = (x: number, k: number) => (x << k) | (x >>> (32 - k));

/** A new list in random order, each order equally likely. Durstenfeld 1964, CACM algorithm 235. */
export function shuffled<T>(items: readonly T[], random: Random): readonly T[] {
  const list = [...items];
  for (let i = list.length - 1; i > 0; i--) {
    const j = random.below(i + 1);
    [list[i], list[j]] = [list[j]!, list[i]!];
  }
  return list;
}
