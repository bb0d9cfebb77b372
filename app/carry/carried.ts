import { type Collected, restoreRun, restoreText } from "../../core/exchange/collect-frames.ts";
import type { Result } from "../../core/result.ts";

/** What goes as codes from one screen to another's camera, and how each is spoken of. */
export type Carried = "run" | "stand";

type Words = {
  readonly restore: (collected: Collected) => Result<string>;
  readonly cannotGo: string;
  /** Under the codes: what to do with the other device. */
  readonly showHow: string;
  /** Before the camera, until the first code is in. */
  readonly readHow: readonly string[];
  readonly otherWays: string;
  readonly gaveNone: string;
  readonly another: string;
};

export const CARRIED: { readonly [C in Carried]: Words } = {
  run: {
    restore: restoreRun,
    cannotGo: "This run cannot go as codes",
    showHow:
      "On the laptop: Bench, Read codes. Hold the screen before its camera, bright and without glare, until the run is on its list.",
    readHow: [
      "On the phone: open the run, Show as codes. Turn its screen bright.",
      "Hold it still before the camera, so that the code fills half of the picture.",
      "Tilt it a little if a lamp or a window shines back.",
    ],
    otherWays: "Other ways: share or save the run on the phone and choose its file here, or paste its text.",
    gaveNone: "The codes gave no run:",
    another: "The phone now shows another run, or a later state of this one.",
  },
  stand: {
    restore: restoreText,
    cannotGo: "This stand cannot go as codes",
    showHow: "On the other device: Stands, Read codes. Hold its camera before this screen until all are in.",
    readHow: [
      "On the other device: Stands, Show as codes. Turn its screen bright.",
      "Hold the camera still before it, so that the code fills half of the picture.",
      "Tilt it a little if a lamp or a window shines back.",
    ],
    otherWays: "Another way: save the stand on the other device, and choose its file here.",
    gaveNone: "The codes gave no stand:",
    another: "The other device now shows something else.",
  },
};
