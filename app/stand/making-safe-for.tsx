import type { RunView } from "../session/live-run.ts";
import { MAKING_SAFE_FOR, MISFIRE } from "../text.ts";
import { isShownEmpty, saidIn, whyMakingSafe } from "./said.ts";
import type { Screen } from "./screen.ts";

/** A misfire has its name on every page until the bottle is shown empty (SAFETY A28). */
export function MakingSafeFor({ view, screen }: { readonly view: RunView; readonly screen: Screen }) {
  const words = makingSafeWords(view, screen.kind);
  return words === undefined ? null : <p class="making-safe-for">{words}</p>;
}

type Seen = Pick<RunView, "snapshot" | "sequence" | "entries" | "pending">;

export const makingSafeWords = (view: Seen, on: Screen["kind"]): string | undefined => {
  const { doc } = view.sequence;
  const made = whyMakingSafe(doc, saidIn(view), isShownEmpty(doc, view.snapshot.context));
  if (made?.why === "nothing-happened") {
    if (on === "empty" || on === "pulled") return MISFIRE.emptying;
    if (made.went) return MISFIRE.went;
  }
  return made && MAKING_SAFE_FOR[made.why];
};
