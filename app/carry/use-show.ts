import { useEffect, useState } from "preact/hooks";
import { frameAt } from "../../core/exchange/qr-frames.ts";

/** Codes a second. A camera gives some thirty pictures, of which one in two is half old and half new. */
export const RATES_PER_S = [1, 2, 3, 5, 7, 9, 12] as const;
const FIRST_RATE = 4;
/** Rounds before the beginnings repeat. */
const ROUNDS = 32;

export type Show = {
  /** Place of the frame that is shown. */
  readonly index: number;
  readonly playing: boolean;
  readonly rate_per_s: number;
  readonly play: (on: boolean) => void;
  /** Forward or back by hand. */
  readonly turn: (by: 1 | -1) => void;
  /** Undefined where it is as fast, or as slow, as it goes. */
  readonly faster: (() => void) | undefined;
  readonly slower: (() => void) | undefined;
};

const wantsLessMotion = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** The loop: which frame now, and every way to steer it. It stands still where less motion is wanted, until it is started. */
export const useShow = (count: number): Show => {
  const [starts] = useState(() => Array.from({ length: ROUNDS }, () => Math.floor(Math.random() * 2 ** 16)));
  const [step, setStep] = useState(0);
  const [playing, play] = useState(() => !wantsLessMotion());
  const [speed, setSpeed] = useState(FIRST_RATE);
  const rate_per_s = RATES_PER_S[speed] ?? 1;
  useEffect(() => {
    if (!playing) return;
    const beat = setInterval(() => setStep((now) => now + 1), 1000 / rate_per_s);
    return () => clearInterval(beat);
  }, [playing, rate_per_s]);
  // By hand it goes in order: a person can then find the code that the laptop misses.
  const [byHand, setByHand] = useState(0);
  const index = playing ? frameAt(step, count, starts) : byHand % count;
  return {
    index,
    playing,
    rate_per_s,
    play: (on) => {
      setByHand(index);
      play(on);
    },
    turn: (by) => setByHand((now) => (now + by + count) % count),
    faster: speed < RATES_PER_S.length - 1 ? () => setSpeed(speed + 1) : undefined,
    slower: speed > 0 ? () => setSpeed(speed - 1) : undefined,
  };
};
