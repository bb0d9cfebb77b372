import { type Screen, screenOf } from "../../../app/stand/screen.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";

/** What the phone would show of a walk, without a page to show it on. */
export const seen = (walk: LoggedWalk) => ({
  snapshot: walk.snapshot,
  sequence: walk.sequence,
  entries: walk.entries,
  pending: [],
  ...walk.sequence.doc,
});

export const at = (walk: LoggedWalk, returnRead = -1): Screen =>
  screenOf(seen(walk), { ...walk.now, by: CREW.conductor }, returnRead);

/** Up to the pull test, which is done too. */
export const pulled = (): LoggedWalk => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.step();
  walk.firstLooks().step();
  return walk;
};
