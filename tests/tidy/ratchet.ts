import type { Ratchet } from "./length.ts";

/** Lengths over the limit, only ever lowered. */
export const ratchet: Ratchet = {};
