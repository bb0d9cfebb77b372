import { type Part, prove } from "./parts.ts";

/** A process of its own: takes one part, answers with its outcome, and ends. */
process.once("message", (part: Part) => {
  void prove(part).then((outcome) => process.send?.(outcome, () => process.disconnect()));
});
