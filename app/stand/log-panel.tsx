import { eventWords } from "../widgets/log-words.ts";
import { personWords } from "./person.ts";
import type { Turn } from "./turn.ts";

/** The log as it is kept, newest first; what was corrected stays, struck (SAFETY A45). */
export function LogPanel({ turn: { view } }: { readonly turn: Turn }) {
  const corrected = new Set(view.entries.map(({ event }) => (event.type === "corrected" ? event.entry : -1)));
  return (
    <>
      <h1 tabIndex={-1} class="act">
        The log
      </h1>
      <ol class="log">
        {view.entries.toReversed().map((entry) => (
          <li key={entry.seq} class={corrected.has(entry.seq) ? "struck" : ""}>
            <small class="number">
              {entry.seq} · {new Date(entry.at).toLocaleTimeString()} · {personWords(view, entry.by)}
            </small>
            {eventWords(entry.event, view)}
          </li>
        ))}
      </ol>
    </>
  );
}
