import { ok, type Result } from "../result.ts";
import { canonicalEntry } from "./canonical.ts";
import { digest, NOTHING_BEFORE } from "./digest.ts";
import type { Entry } from "./entry.ts";

/** An entry before it has its place: everything but version, number and the two digests. */
export type Draft = Omit<Entry, "v" | "seq" | "prev" | "hash">;

/** The last entry so far; nothing before the first. */
export type Tail = Pick<Entry, "seq" | "hash"> | undefined;

/**
 * Gives a draft the next place in its log and seals it to the entry before.
 * @fails value-unstable where a text or number has no stable form; value-too-deep
 */
export const appendEntry = (tail: Tail, draft: Draft): Result<Entry> => {
  const { at, mono, session, log, device, by, event } = draft;
  const open: Omit<Entry, "hash"> = {
    v: 1,
    log,
    seq: tail ? tail.seq + 1 : 0,
    at,
    mono,
    session,
    device,
    by,
    event,
    prev: tail ? tail.hash : NOTHING_BEFORE,
  };
  const text = canonicalEntry(open);
  return text.ok ? ok({ ...open, hash: digest(text.value) }) : text;
};
