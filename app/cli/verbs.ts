import type { Verb } from "./verb.ts";

/** One line a verb. Each is loaded when it is called, so that `predict` never waits for what `collect` needs. */
export const verbs: Readonly<Record<string, () => Promise<Verb>>> = {
  predict: () => import("./predict.ts").then((m) => ({ run: m.predictVerb, help: m.predictHelp })),
  lint: () => import("./lint.ts").then((m) => ({ run: m.lintVerb, help: m.lintHelp })),
};
