import { useState } from "preact/hooks";
import type { Finding, Weight } from "../../core/review/finding.ts";

/** Weight is a word and a shape before it is a colour. */
const WEIGHT: Record<Weight, { readonly sign: string; readonly name: string }> = {
  red: { sign: "◆", name: "Red" },
  amber: { sign: "▲", name: "Amber" },
  note: { sign: "·", name: "Note" },
};

type Props = { readonly findings: readonly Finding[]; readonly onShow: (seq: number) => void };

export function Findings({ findings, onShow }: Props) {
  const [notes, setNotes] = useState(true);
  const shown = notes ? findings : findings.filter(({ weight }) => weight !== "note");
  return (
    <section class="sheet" aria-labelledby="findings">
      <h2 id="findings">To look at</h2>
      <label class="no-print">
        <input type="checkbox" checked={notes} onChange={(event) => setNotes(event.currentTarget.checked)} />{" "}
        notes too
      </label>
      {shown.length === 0 && <p>Nothing skipped, hurried, refused, held or reported in this run.</p>}
      <ol class="findings">
        {shown.map((finding) => (
          <li
            key={`${finding.kind} ${finding.seqs.join()} ${finding.words}`}
            class={`finding ${finding.weight}`}
          >
            <span class="weight">
              <span aria-hidden="true">{WEIGHT[finding.weight].sign}</span> {WEIGHT[finding.weight].name}
            </span>
            <div>
              <strong>{finding.words}</strong>
              {finding.detail !== "" && <p>{finding.detail}</p>}
              <p class="button-row no-print">
                {finding.seqs.slice(0, 4).map((seq) => (
                  <button key={seq} type="button" class="button small" onClick={() => onShow(seq)}>
                    Entry {seq}
                  </button>
                ))}
              </p>
            </div>
          </li>
        ))}
      </ol>
    </section>
  );
}
