/** A small seeded source of chance: the same seed gives the same run, everywhere. */
export class Luck {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0 || 1;
  }

  /** mulberry32: uniform in [0, 1). */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  chance(share: number): boolean {
    return this.next() < share;
  }

  below(count: number): number {
    return Math.floor(this.next() * count);
  }

  pick<T>(from: readonly T[]): T {
    return from[this.below(from.length)] as T;
  }
}
