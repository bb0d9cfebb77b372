import type { Timer } from "../ports.ts";

export const pageTimer: Timer = {
  after: (ms, then) => {
    const id = setTimeout(then, ms);
    return () => clearTimeout(id);
  },
};
