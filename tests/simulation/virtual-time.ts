import type { Clock, Timer } from "../../app/ports.ts";

type Due = { readonly at_ms: number; readonly then: () => void };

/**
 * Time that moves only when it is told to: a wall clock, a monotonic clock that can part from it,
 * and the timers of one page's life. A page that is killed takes its timers with it.
 */
export class VirtualTime {
  wall_ms = 1_780_000_000_000;
  mono_ms = 1_000;
  #due: Due[] = [];

  readonly timer: Timer = {
    after: (ms, then) => {
      const due = { at_ms: this.mono_ms + ms, then };
      this.#due.push(due);
      return () => {
        this.#due = this.#due.filter((other) => other !== due);
      };
    },
  };

  clock(session: string): Clock {
    const stamp = () => ({ at: Math.round(this.wall_ms), mono: Math.round(this.mono_ms * 10), session });
    return { now: stamp, ofInput: stamp };
  }

  killTimers(): void {
    this.#due = [];
  }

  /** Moves both clocks on and runs what falls due on the way, in order. */
  async pass(ms: number): Promise<void> {
    const end_ms = this.mono_ms + ms;
    await breathe();
    for (let next = this.#next(end_ms); next; next = this.#next(end_ms)) {
      this.#move(next.at_ms - this.mono_ms);
      this.#due = this.#due.filter((other) => other !== next);
      next.then();
      await breathe();
    }
    this.#move(end_ms - this.mono_ms);
    await breathe();
  }

  /** Sleep: the wall clock goes on, the monotonic one stands, and no timer fires. */
  sleep(ms: number): void {
    this.wall_ms += ms;
  }

  #next(end_ms: number): Due | undefined {
    return this.#due.filter(({ at_ms }) => at_ms <= end_ms).sort((a, b) => a.at_ms - b.at_ms)[0];
  }

  #move(ms: number): void {
    this.wall_ms += ms;
    this.mono_ms += ms;
  }
}

/** Until every promise that can settle without time passing has settled. */
export const breathe = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
