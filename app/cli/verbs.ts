import type { Verb } from "./verb.ts";

/** One line a verb. Each is loaded when it is called, so that `predict` never waits for what `collect` needs. */
export const verbs: Readonly<Record<string, () => Promise<Verb>>> = {
  predict: () => import("./predict.ts").then((m) => ({ run: m.predictVerb, help: m.predictHelp })),
  reduce: () => import("./reduce.ts").then((m) => ({ run: m.reduceVerb, help: m.reduceHelp })),
  replay: () => import("./replay.ts").then((m) => ({ run: m.replayVerb, help: m.replayHelp })),
  lint: () => import("./lint.ts").then((m) => ({ run: m.lintVerb, help: m.lintHelp })),
  verify: () => import("./verify.ts").then((m) => ({ run: m.verifyVerb, help: m.verifyHelp })),
  export: () => import("./export.ts").then((m) => ({ run: m.exportVerb, help: m.exportHelp })),
};
