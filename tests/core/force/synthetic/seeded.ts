/** A small seeded generator (mulberry32): the same seed gives the same record on every machine. */
export class Seeded {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** Uniform in [0, 1). */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  between(least: number, greatest: number): number {
    return least + (greatest - least) * this.next();
  }

  /** Uniform in the logarithm, for quantities that span decades. */
  logBetween(least: number, greatest: number): number {
    return least * (greatest / least) ** this.next();
  }

  integer(least: number, greatest: number): number {
    return least + Math.floor(this.next() * (greatest - least + 1));
  }

  oneOf<T>(choices: readonly T[]): T {
    return choices[this.integer(0, choices.length - 1)]!;
  }

  chance(probability: number): boolean {
    return this.next() < probability;
  }

  /** Standard normal, by Box and Muller's transform. */
  normal(): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.next()));
    return radius * Math.cos(2 * Math.PI * this.next());
  }
}
