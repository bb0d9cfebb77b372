import type { ComponentType } from "preact";
import { useId, useState } from "preact/hooks";
import type { DoneRun, MatrixProgress, Slot, TestMatrix } from "../../core/plan/test-matrix.ts";
import type { Issue } from "../../core/result.ts";
import { sentence } from "../widgets/quantity-field.tsx";
import { ScrollBox } from "../widgets/scroll-box.tsx";
import { inUnit, type UnitChoice } from "../widgets/unit-choice.ts";
import type { MatrixDraft } from "./matrix-draft.ts";

export type MatrixSheetProps = {
  readonly draft: MatrixDraft;
  readonly matrix: TestMatrix | undefined;
  readonly progress: MatrixProgress | undefined;
  readonly issues: readonly Issue[];
  readonly units: UnitChoice;
  readonly density_kg_m3: number;
  readonly saved: boolean;
  readonly synthetic: boolean;
  readonly onDraft: (draft: MatrixDraft) => void;
  readonly onDraw: () => void;
  readonly onSave: () => void;
  readonly onExport: () => void;
  /** The plan's file. */
  readonly text: string;
  readonly onFile: () => void;
  readonly ShowCode: ComponentType<{ readonly text: string; readonly onClose: () => void }>;
};

/** Which runs to make, in which order, and what of it is still to do. */
export function MatrixSheet(props: MatrixSheetProps) {
  const { draft, units, issues, onDraft } = props;
  const set = (key: keyof MatrixDraft) => (text: string) => onDraft({ ...draft, [key]: text });
  const of = (where: string) => issues.filter((one) => one.where.startsWith(where));
  return (
    <section class="sheet" aria-labelledby="matrix-title">
      <h2 id="matrix-title">Test matrix {props.synthetic && <span class="tag synthetic">SYNTHETIC</span>}</h2>
      <p class="lead">
        Every level once is a block, run by one crew in an order drawn by lot: what drifts over a day then
        does not line up with fill or pressure, and what differs between crews can be told from both.
      </p>
      <form class="plan-matrix-form no-print" onSubmit={(event) => event.preventDefault()}>
        <TextField
          label={`Water levels, ${units.water}`}
          value={draft.water}
          issues={of("water_kg")}
          onText={set("water")}
        />
        <TextField
          label={`Pressure levels, ${units.pressure}`}
          value={draft.pressure}
          issues={of("setPressure_Pa")}
          onText={set("pressure")}
        />
        <TextField
          label="Times each"
          value={draft.replicates}
          issues={of("replicates")}
          onText={set("replicates")}
        />
        <TextField label="Crews" value={draft.crews} issues={of("crews")} onText={set("crews")} />
        <div class="button-row">
          <button type="button" class="button" onClick={props.onDraw}>
            Draw another order
          </button>
          <button
            type="button"
            class="button go"
            aria-disabled={props.matrix === undefined || props.saved}
            onClick={() => props.matrix && !props.saved && props.onSave()}
          >
            {props.saved ? "Kept" : "Keep this matrix"}
          </button>
          <button
            type="button"
            class="button"
            aria-disabled={!props.matrix}
            onClick={() => props.matrix && props.onExport()}
          >
            Save as CSV
          </button>
        </div>
      </form>
      {props.matrix && <ForTheStand {...props} />}
      {props.matrix && <Outlook {...props} matrix={props.matrix} />}
    </section>
  );
}

/** The stand's phone takes the plan in on its start page, without a network. */
function ForTheStand({ text, onFile, ShowCode }: Pick<MatrixSheetProps, "text" | "onFile" | "ShowCode">) {
  const [shown, setShown] = useState(false);
  return (
    <div class="no-print">
      <div class="button-row">
        <button type="button" class="button" onClick={onFile}>
          Save for the stand
        </button>
        {!shown && (
          <button type="button" class="button" onClick={() => setShown(true)}>
            Show for the stand
          </button>
        )}
      </div>
      {shown && <ShowCode text={text} onClose={() => setShown(false)} />}
    </div>
  );
}

function TextField(props: {
  readonly label: string;
  readonly value: string;
  readonly issues: readonly Issue[];
  readonly onText: (text: string) => void;
}) {
  const id = useId();
  const faults = props.issues.map(({ detail, remedy }) => `${sentence(detail)} ${sentence(remedy)}`);
  return (
    <div class="quantity" data-faulty={faults.length > 0}>
      <label for={id}>{props.label}</label>
      <div class="quantity-box">
        <input
          id={id}
          type="text"
          autocomplete="off"
          value={props.value}
          aria-invalid={faults.length > 0}
          aria-describedby={`${id}-fault`}
          onInput={(event) => props.onText(event.currentTarget.value)}
        />
      </div>
      <p id={`${id}-fault`} class={faults.length > 0 ? "quantity-fault" : "unseen"} role="status">
        {faults.join(" ")}
      </p>
    </div>
  );
}

function Outlook({
  matrix,
  progress,
  units,
  density_kg_m3,
  ...props
}: MatrixSheetProps & { matrix: TestMatrix }) {
  const done = new Map(progress?.done.map(({ slot, code }) => [slot.order, code]));
  return (
    <>
      <p role="status">
        <b>
          {done.size} of {matrix.slots.length} run
        </b>
        , seed {matrix.plan.seed}.
        {!matrix.balanced &&
          ` The crews do not run equally often: give a number of times that ${matrix.plan.crews.length} divides.`}
        {progress && progress.beside.length > 0 && ` ${beside(progress.beside)}`}
        {!props.saved && " Not kept yet."}
      </p>
      <ScrollBox class="plan-matrix" label="Runs in order">
        <table>
          <caption class="unseen">Runs in order, with what is done</caption>
          <thead>
            <tr>
              <th scope="col">Run</th>
              <th scope="col">Crew</th>
              <th scope="col">Water</th>
              <th scope="col">Pressure</th>
              <th scope="col">Done as</th>
            </tr>
          </thead>
          <tbody>
            {matrix.slots.map((slot) => (
              <SlotRow key={slot.order} {...{ slot, units, density_kg_m3 }} code={done.get(slot.order)} />
            ))}
          </tbody>
        </table>
      </ScrollBox>
    </>
  );
}

const beside = (runs: readonly DoneRun[]) =>
  `Beside the matrix, at other levels or one too many: ${runs.map(({ code }) => code).join(", ")}.`;

function SlotRow(props: {
  readonly slot: Slot;
  readonly code: string | undefined;
  readonly units: UnitChoice;
  readonly density_kg_m3: number;
}) {
  const { slot, code, units, density_kg_m3 } = props;
  return (
    <tr data-done={code !== undefined}>
      <th scope="row">{slot.order}</th>
      <td>{slot.crew}</td>
      <td>{inUnit(slot.water_kg, "water", units, density_kg_m3)}</td>
      <td>{inUnit(slot.setPressure_Pa, "pressure", units)}</td>
      <td>{code ?? "to run"}</td>
    </tr>
  );
}
