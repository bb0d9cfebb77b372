import { issue } from "../../result.ts";
import { among, type Contradiction, when } from "./contradiction.ts";

/** Times and counts that contradict one another. */

/** After a misfire nobody approaches for 60 s: NAR model rocket safety code, "Misfires" (read). */
const WAIT_AFTER_MISFIRE_s = 60;

export const limitContradictions: readonly Contradiction[] = [
  among(["limits"], ({ limits }) => [
    ...when(limits.waitAfterDoubt_s < WAIT_AFTER_MISFIRE_s, () =>
      issue(
        "wait-too-short",
        "limits.waitAfterDoubt_s",
        `${limits.waitAfterDoubt_s} s after a misfire; the hobby's safety code says ${WAIT_AFTER_MISFIRE_s} s`,
        `Give ${WAIT_AFTER_MISFIRE_s} s or more.`,
      ),
    ),
    ...when(limits.waitAfterRelease_s > limits.waitAfterDoubt_s, () =>
      issue(
        "waits-reversed",
        "limits.waitAfterRelease_s",
        `${limits.waitAfterRelease_s} s after a release that was seen, ${limits.waitAfterDoubt_s} s after a doubt`,
        "The wait after a doubt is the longer one.",
      ),
    ),
    ...when(limits.zeroToRelease_s >= limits.clearBeforeZero_s, () =>
      issue(
        "window-outlasts-clear",
        "limits.zeroToRelease_s",
        `the window of ${limits.zeroToRelease_s} s is as long as clear stays fresh, ${limits.clearBeforeZero_s} s`,
        "Give the window of the recorder's zero, and a clear that outlasts it.",
      ),
    ),
    ...when(limits.timeAtPressure_s <= limits.clearBeforeZero_s + limits.zeroToRelease_s, () =>
      issue(
        "pressure-time-too-short",
        "limits.timeAtPressure_s",
        `${limits.timeAtPressure_s} s at pressure leaves no time for the last call and the window`,
        "Give the time that the bottle may stand at pressure, charging included.",
      ),
    ),
  ]),
];
