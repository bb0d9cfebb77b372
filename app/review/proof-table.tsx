import type { TimelineItem } from "../../core/review/review-run.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { RestraintAnswer } from "../../core/sequence/vocabulary.ts";
import { ANSWER } from "../text.ts";
import { ScrollBox } from "../widgets/scroll-box.tsx";

type Look = { readonly seq: number; readonly person: string; readonly answer: RestraintAnswer };

const lastLook = (timeline: readonly TimelineItem[], restraint: string, round: 1 | 2): Look | undefined => {
  const item = timeline.findLast(
    ({ entry: { event }, accepted }) =>
      accepted &&
      event.type === "restraint-answered" &&
      event.restraint === restraint &&
      event.round === round,
  );
  const event = item?.entry.event;
  return item && event?.type === "restraint-answered"
    ? { seq: item.entry.seq, person: event.seenBy, answer: event.answer }
    : undefined;
};

const lookWords = (look: Look | undefined): string =>
  look ? `${ANSWER[look.answer]}, ${look.person}, entry ${look.seq}` : "not looked at";

/** The evidence on which the air went on: each restraint, who looked, what was seen. */
export function ProofTable({
  rig,
  timeline,
}: {
  readonly rig: Rig;
  readonly timeline: readonly TimelineItem[];
}) {
  return (
    <section class="sheet" aria-labelledby="proof">
      <h2 id="proof">Each restraint, twice</h2>
      <ScrollBox label="Table of both looks">
        <table class="narrow">
          <thead>
            <tr>
              <th scope="col">Mark</th>
              <th scope="col">Last first look</th>
              <th scope="col">Last second look</th>
            </tr>
          </thead>
          <tbody>
            {rig.restraints.map(({ id, mark }) => (
              <tr key={id}>
                <th scope="row">{mark}</th>
                <td>{lookWords(lastLook(timeline, id, 1))}</td>
                <td>{lookWords(lastLook(timeline, id, 2))}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
    </section>
  );
}
