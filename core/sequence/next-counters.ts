import { insideWindow } from "./clock.ts";
import type { Context, Doc, Snapshot } from "./context.ts";
import { isLive } from "./states.ts";
import type { Act } from "./vocabulary.ts";

type Counters = Pick<
  Context,
  "buildUps" | "zeros" | "pulls" | "pressureSince" | "zeroAt" | "waitSince" | "doubt" | "release"
>;

/** What is counted and timed rather than proved: build-ups, zeros, pulls, the wait and its doubt. */
export const nextCounters = (doc: Doc, { state, context }: Snapshot, act: Act): Counters => {
  const { buildUps, zeros, pulls, pressureSince, zeroAt, waitSince, doubt, release } = context;
  const same: Counters = { buildUps, zeros, pulls, pressureSince, zeroAt, waitSince, doubt, release };
  const stamp = { at: act.at, mono: act.mono, session: act.session };
  switch (act.event.type) {
    case "air-called":
      return {
        ...same,
        buildUps: buildUps + 1,
        zeros: 0,
        pulls: 0,
        pressureSince: stamp,
        doubt: true,
        release: undefined,
      };
    case "release-called":
      return { ...same, zeros: zeros + 1, zeroAt: { ...stamp, seq: act.seq } };
    case "released": {
      const called = zeroAt !== undefined;
      const onTime = called && insideWindow(zeroAt, act, doc.rig.limits.zeroToRelease_s * 1000);
      // A discharge was counted when it was called: what came of it is no further pull.
      const pulled = isLive(state) ? pulls + 1 : pulls;
      return { ...same, pulls: pulled, doubt: !isLive(state), release: { seq: act.seq, onTime, called } };
    }
    case "nothing-happened":
      return { ...same, pulls: isLive(state) ? pulls + 1 : pulls, doubt: true };
    case "discharge-called":
      return { ...same, pulls: pulls + 1, doubt: true };
    case "make-safe-called":
    case "air-seen-on":
    case "restarted":
    case "unresolved-declared":
      return { ...same, doubt: true };
    case "corrected":
      // A release that was not seen after all leaves a bottle in doubt.
      return act.event.entry === release?.seq ? { ...same, doubt: true, release: undefined } : same;
    case "wait-called":
    case "unresolved-ended":
      return { ...same, waitSince: stamp };
    case "clock-jumped":
      return waitSince ? { ...same, waitSince: stamp } : same;
    default:
      return same;
  }
};
