import type { Correction } from "../../core/force/corrections.ts";
import { plainNumber } from "../../core/units/value-text.ts";
import type { ForceEvent, ForceLayer } from "../ports.ts";
import { ScrollBox } from "../widgets/scroll-box.tsx";

export const correctionNames: Readonly<Record<Correction, string>> = {
  gaps: "missing samples",
  clipping: "channel at its limit",
  zero: "zero",
  discharge: "droop",
  stopper: "stopper's step",
  weight: "weight that left",
};

const correctionWords: Readonly<Record<Correction, string>> = {
  gaps: "drawn from their neighbours and the stand's ringing",
  clipping: "rebuilt from the other channel by its share",
  zero: "mean and drift of the quiet before and after, taken off",
  discharge: "what the charge-coupled channel lost, put back by the exact inverse",
  stopper: "its push inside the zero, put back at the onset",
  weight: "the water's weight, which left while it pushed, taken off",
};

export type CorrectionsSheetProps = {
  readonly event: ForceEvent;
  readonly shown: ForceEvent;
  readonly off: readonly Correction[];
  readonly onOff: (off: readonly Correction[]) => void;
};

/** Every correction with its size; each can be switched off to see what it does. */
export function CorrectionsSheet(props: CorrectionsSheetProps) {
  const { off, onOff } = props;
  const toggle = (one: Correction) =>
    onOff(off.includes(one) ? off.filter((other) => other !== one) : [...off, one]);
  return (
    <section class="sheet" aria-labelledby="corrections-title">
      <h2 id="corrections-title">What was corrected</h2>
      <ScrollBox label="Corrections">
        <table class="corrections">
          <caption class="unseen">Corrections from the record as read to the impulse</caption>
          <thead>
            <tr>
              <th scope="col" class="no-print">
                On
              </th>
              <th scope="col">Correction</th>
              <th scope="col" class="right">
                Adds, N·s
              </th>
              <th scope="col" class="right">
                of the impulse
              </th>
              <th scope="col">How</th>
            </tr>
          </thead>
          <Rows {...props} onToggle={toggle} />
        </table>
      </ScrollBox>
      {off.length > 0 && (
        <button type="button" class="button small no-print" onClick={() => onOff([])}>
          All on again
        </button>
      )}
    </section>
  );
}

function Rows(props: CorrectionsSheetProps & { readonly onToggle: (correction: Correction) => void }) {
  const { event, shown, off, onToggle } = props;
  const added_Ns = event.layers.reduce((sum, layer) => sum + (layer.needed ? layer.added_Ns : 0), 0);
  const fringe_Ns = event.report.impulse_Ns - event.read_Ns - added_Ns;
  const without = `with what is switched off left out: ${plainNumber(shown.report.impulse_Ns, 4)} N·s, ${share(shown.report.impulse_Ns, event)}`;
  return (
    <tbody>
      <Sum event={event} name="As the recorder wrote it, onset to end" sum_Ns={event.read_Ns} />
      {event.layers.map((layer) => (
        <Row key={layer.correction} {...{ layer, event, onToggle }} off={off.includes(layer.correction)} />
      ))}
      <Sum
        event={event}
        name="fringes"
        sum_Ns={fringe_Ns}
        how="what pushed just before the onset was seen, and the ringing after the end"
      />
      <Sum
        event={event}
        name="Total impulse"
        sum_Ns={event.report.impulse_Ns}
        how={off.length > 0 ? without : ""}
        total
      />
    </tbody>
  );
}

function Sum(props: {
  readonly event: ForceEvent;
  readonly name: string;
  readonly sum_Ns: number;
  readonly how?: string;
  readonly total?: true;
}) {
  return (
    <tr class={props.total ? "total" : undefined}>
      <td class="no-print" />
      <th scope="row">{props.name}</th>
      <td class="right">{plainNumber(props.sum_Ns, 4)}</td>
      <td class="right">{share(props.sum_Ns, props.event)}</td>
      <td>{props.how}</td>
    </tr>
  );
}

const share = (part_Ns: number, event: ForceEvent) =>
  `${plainNumber((100 * part_Ns) / event.report.impulse_Ns, 3)} %`;

function Row(props: {
  readonly layer: ForceLayer;
  readonly event: ForceEvent;
  readonly off: boolean;
  readonly onToggle: (correction: Correction) => void;
}) {
  const { layer, event, off, onToggle } = props;
  const name = correctionNames[layer.correction];
  return (
    <tr data-off={off} data-needed={layer.needed}>
      <td class="no-print">
        <input
          type="checkbox"
          checked={!off}
          disabled={!layer.needed}
          aria-label={`Correct for ${name}`}
          onChange={() => onToggle(layer.correction)}
        />
      </td>
      <th scope="row">{name}</th>
      <td class="right">{layer.needed ? signedText(layer.added_Ns) : "–"}</td>
      <td class="right">{layer.needed ? share(layer.added_Ns, event) : ""}</td>
      <td>{layer.needed ? correctionWords[layer.correction] : "nothing to correct here"}</td>
    </tr>
  );
}

const signedText = (value_Ns: number) => `${value_Ns > 0 ? "+" : ""}${plainNumber(value_Ns, 3)}`;
