import { gap_s } from "../../core/review/pace.ts";
import type { TimelineItem } from "../../core/review/review-run.ts";
import type { RunDocuments } from "../ports.ts";
import { STATE_TITLE } from "../text.ts";
import { eventWords } from "../widgets/log-words.ts";
import { ScrollBox } from "../widgets/scroll-box.tsx";

type Props = { readonly timeline: readonly TimelineItem[]; readonly documents: RunDocuments };

const clock = (at: number): string => new Date(at).toLocaleTimeString(undefined, { hour12: false });

const gapWords = (before: TimelineItem | undefined, item: TimelineItem): string => {
  if (!before) return "";
  const seconds = gap_s(before.entry, item.entry);
  if (seconds === undefined) return "restart";
  return seconds < 100 ? `+${seconds.toFixed(1)} s` : `+${(seconds / 60).toFixed(1)} min`;
};

/** Every entry as it was written; what was corrected later stays, struck. */
export function RawLog({ timeline, documents }: Props) {
  const corrected = new Set(
    timeline.flatMap(({ entry: { event } }) => (event.type === "corrected" ? [event.entry] : [])),
  );
  return (
    <section class="sheet" aria-labelledby="log">
      <h2 id="log">The log, entry by entry</h2>
      <ScrollBox label="Table of the log">
        <table class="raw-log">
          <thead>
            <tr>
              <th scope="col" class="right">
                No.
              </th>
              <th scope="col">Time</th>
              <th scope="col">After</th>
              <th scope="col">By</th>
              <th scope="col">What</th>
              <th scope="col">Stage</th>
            </tr>
          </thead>
          <tbody>
            {timeline.map((item, i) => (
              <tr
                key={item.entry.seq}
                id={`entry-${item.entry.seq}`}
                tabIndex={-1}
                class={item.from === item.to ? "" : "moved"}
              >
                <td class="right">{item.entry.seq}</td>
                <td class="keep">{clock(item.entry.at)}</td>
                <td class="keep">{gapWords(timeline[i - 1], item)}</td>
                <td>{item.entry.by}</td>
                <td>
                  {corrected.has(item.entry.seq) ? (
                    <s>{eventWords(item.entry.event, documents)}</s>
                  ) : (
                    eventWords(item.entry.event, documents)
                  )}
                  {!item.accepted && <strong> (this version would refuse it)</strong>}
                </td>
                <td>
                  {item.from === item.to
                    ? STATE_TITLE[item.to]
                    : `${STATE_TITLE[item.from]} → ${STATE_TITLE[item.to]}`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
    </section>
  );
}
