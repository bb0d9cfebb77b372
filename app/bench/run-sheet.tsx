import { useState } from "preact/hooks";
import { plainNumber, shortNumber } from "../../core/units/value-text.ts";
import { addressOf } from "../address.ts";
import type { Desk } from "./desk.ts";
import { isSynthetic } from "./desk-file.ts";
import { firingsOf, type RunFiring } from "./desk-lists.tsx";
import { FiringSheets } from "./firing-sheets.tsx";
import type { DeskRun } from "./run-conditions.ts";
import { IssueList } from "./take-in-strip.tsx";
import type { ForceView } from "./use-force.ts";
import { dayText, timeText } from "./when.ts";

export type RunSheetProps = {
  readonly desk: Desk;
  readonly view: ForceView;
  readonly run: DeskRun;
  readonly onExport: (firings: readonly RunFiring[]) => void;
};

/** One run: what it went by, what its record says, what each correction did, and how it compares. */
export function RunSheet(props: RunSheetProps) {
  const { desk, run } = props;
  const firings = firingsOf(desk, run.log);
  const [picked, setPicked] = useState(0);
  const firing = firings[Math.min(picked, firings.length - 1)];
  return (
    <>
      <RunHead {...props} firings={firings} />
      {firings.length > 1 && (
        <fieldset class="button-row no-print">
          <legend>This run has {firings.length} records</legend>
          {firings.map(({ file, event }, i) => (
            <button
              key={`${file.digest}${event}`}
              type="button"
              class="button small"
              aria-pressed={i === picked}
              onClick={() => setPicked(i)}
            >
              {file.name}
            </button>
          ))}
        </fieldset>
      )}
      {firing?.how === "suggested" && <NotConfirmed firing={firing} />}
      {firing ? (
        <FiringSheets
          key={firing.file.digest}
          {...{ desk, run }}
          view={props.view}
          file={firing.file}
          place={firing.event}
        />
      ) : (
        <NoRecord run={run} />
      )}
    </>
  );
}

function RunHead({ run, firings, onExport }: RunSheetProps & { readonly firings: readonly RunFiring[] }) {
  const synthetic = run.synthetic || firings.some(({ file }) => isSynthetic(file));
  return (
    <header class="run-head">
      <h2>
        {run.code} {synthetic && <span class="tag synthetic">SYNTHETIC</span>}{" "}
        {run.drill && <span class="tag">DRILL: not a run</span>}
      </h2>
      <p>
        {dayText(run.openedAt_ms)}, {timeText(run.openedAt_ms)}, {run.rigName}
        {run.crew !== undefined && `, crew ${run.crew}`}. {conditionsText(run)}
      </p>
      {run.doubts.length > 0 && (
        <div class="warning">
          <h3>The log says what this sequence would have refused</h3>
          <IssueList issues={run.doubts} />
        </div>
      )}
      {run.notes.map((text) => (
        <p key={text}>Noted by the crew: “{text}”</p>
      ))}
      <div class="button-row no-print">
        <button type="button" class="button small" onClick={() => print()}>
          Print the report
        </button>
        {firings.length > 0 && (
          <button type="button" class="button small" onClick={() => onExport(firings)}>
            Save as CSV and JSON
          </button>
        )}
      </div>
    </header>
  );
}

function conditionsText({ water_kg, set_Pa, water_C }: DeskRun): string {
  const parts = [
    water_kg === undefined ? "Water was not measured" : `${plainNumber(1e3 * water_kg, 3)} g of water`,
    set_Pa === undefined ? "pressure was not read" : `${shortNumber(set_Pa / 1e5, 3)} bar gauge`,
    ...(water_C === undefined ? [] : [`water at ${shortNumber(water_C, 3)} °C`]),
  ];
  return `${parts.join(", ")}.`;
}

function NotConfirmed({ firing }: { readonly firing: RunFiring }) {
  return (
    <p class="not-confirmed">
      Not confirmed: {firing.file.name} only looks like this run's record.{" "}
      <a href={addressOf("bench", "file", firing.file.digest)}>Look and say</a>
    </p>
  );
}

function NoRecord({ run }: { readonly run: DeskRun }) {
  return (
    <section class="sheet">
      <p>
        <b>No force record belongs to this run yet.</b>{" "}
        {run.released_ms === undefined
          ? "Its log does not say that it was released, so there may be none."
          : `Bring in the recorder's file; if ${run.code} is in its name or its first lines, it finds its way here.`}
      </p>
    </section>
  );
}
