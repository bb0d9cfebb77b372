import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import { precisionOf } from "../../core/series/crew-effects.ts";
import { outlierTest } from "../../core/series/outlier-test.ts";
import { summarizeReplicates } from "../../core/series/replicates.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import { addressOf } from "../address.ts";
import { DataTable, right } from "../widgets/data-table.tsx";
import { Plot } from "../widgets/plot.tsx";
import type { Desk } from "./desk.ts";
import { warningNames } from "./result-sheet.tsx";
import { curvesSpec } from "./series-curves.ts";
import { levelsOf, type SeriesRow, seriesRows } from "./series-rows.ts";
import { TrendSheet } from "./trend-sheet.tsx";

/** All runs together: replicates, crews, points on predicted curves, outliers, what drifts. */
export function SeriesSheet({ desk, onExport }: { readonly desk: Desk; readonly onExport: () => void }) {
  const rows = seriesRows(desk);
  const key = rows.map(({ run, impulse_Ns }) => `${run.log}${impulse_Ns}`).join();
  const spec = useMemo(() => (rows.length > 0 ? curvesSpec(rows) : undefined), [key]);
  if (rows.length === 0)
    return <p>A series needs runs with their force records: bring in both, then look here again.</p>;
  const synthetic = rows.some(({ run }) => run.synthetic);
  const waiting = rows.filter(({ confirmed }) => !confirmed).length;
  return (
    <>
      <header class="run-head">
        <h2>
          Series of {rows.length} runs {synthetic && <span class="tag synthetic">SYNTHETIC</span>}
        </h2>
        {waiting > 0 && <p class="not-confirmed">Records that nobody has confirmed: {waiting}.</p>}
        <div class="button-row no-print">
          <button type="button" class="button small" onClick={() => print()}>
            Print
          </button>
          <button type="button" class="button small" onClick={onExport}>
            Save as CSV
          </button>
        </div>
      </header>
      <section class="sheet" aria-labelledby="curves-title">
        <h2 id="curves-title">Measured on predicted</h2>
        {spec && <Plot spec={spec} table={() => pointsTable(rows)} />}
        <p class="lead">
          Points with their 95 % intervals; lines predicted for mean conditions with their band (k = 2). One
          line for each pressure.
        </p>
      </section>
      <Levels rows={rows} />
      <Crews rows={rows} />
      <Outliers rows={rows} />
      <TrendSheet rows={rows} />
      <AllRuns rows={rows} />
    </>
  );
}

function pointsTable(rows: readonly SeriesRow[]) {
  return {
    caption: "Measured and predicted impulse of each run, N·s",
    head: ["run", "level", "measured", "u", "predicted", "u predicted"],
    rows: rows.map(({ run, level, impulse_Ns, u_Ns, predicted_Ns, predictedU_Ns }) => [
      run.code,
      level,
      valueWithU(impulse_Ns, u_Ns).value,
      valueWithU(impulse_Ns, u_Ns).u,
      valueWithU(predicted_Ns, predictedU_Ns).value,
      valueWithU(predicted_Ns, predictedU_Ns).u,
    ]),
  };
}

function Levels({ rows }: { readonly rows: readonly SeriesRow[] }) {
  return (
    <section class="sheet" aria-labelledby="levels-title">
      <h2 id="levels-title">Replicates</h2>
      <DataTable
        caption="Total impulse at each level"
        captionUnseen
        columns={[
          "Level",
          right("Runs"),
          right("Mean, N·s"),
          right("s of a single run"),
          right("95 % of the mean"),
          right("Measured over predicted"),
        ]}
        rows={levelsOf(rows).map((level) => ({
          key: level,
          cells: levelCells(
            level,
            rows.filter((row) => row.level === level),
          ),
        }))}
      />
      <p class="lead">
        Total impulse. The interval holds the mean with 95 % by Student's t, from scatter alone; what is
        common to all runs, above all the calibration, comes on top.
      </p>
    </section>
  );
}

/** One run has no scatter to speak of. */
function levelCells(name: string, rows: readonly SeriesRow[]): readonly ComponentChildren[] {
  const summary = summarizeReplicates(rows.map(({ impulse_Ns }) => impulse_Ns));
  const level = (
    <span key="level" class="keep">
      {name}
    </span>
  );
  const ratio = plainNumber(rows.reduce((sum, row) => sum + row.ratio, 0) / rows.length, 4);
  if (!summary.ok) return [level, String(rows.length), plainNumber(rows[0]!.impulse_Ns, 4), "–", "–", ratio];
  const { mean, u, deviation, halfWidth } = summary.value;
  const scatter = [plainNumber(deviation, 2), `± ${plainNumber(halfWidth, 2)}`];
  return [level, String(rows.length), valueWithU(mean, u).value, ...scatter, ratio];
}

function Crews({ rows }: { readonly rows: readonly SeriesRow[] }) {
  const crews = [...new Set(rows.map(({ run }) => run.crew ?? "unknown"))].sort();
  const groups = crews.map((crew) => ({
    crew,
    values: rows.filter(({ run }) => (run.crew ?? "unknown") === crew).map(({ ratio }) => ratio),
  }));
  const found = precisionOf(groups);
  const percent = (value: number) => `${plainNumber(100 * value, 2)} %`;
  return (
    <section class="sheet" aria-labelledby="crews-title">
      <h2 id="crews-title">Within and between crews</h2>
      {found.ok ? (
        <>
          <dl class="fact-list">
            <dt>Repeatability</dt>
            <dd>
              s<sub>r</sub> = {percent(found.value.repeatability)}: two runs of one crew differ by less than{" "}
              {percent(found.value.repeatabilityLimit)} in 95 of 100 cases
            </dd>
            <dt>Reproducibility</dt>
            <dd>
              s<sub>R</sub> = {percent(found.value.reproducibility)}: two runs of two crews, less than{" "}
              {percent(found.value.reproducibilityLimit)}
            </dd>
            <dt>Between crews</dt>
            <dd>
              s<sub>L</sub> = {percent(found.value.betweenCrews)}; so large or larger by chance alone in{" "}
              {plainNumber(100 * found.value.p, 2)} of 100 cases
              {found.value.betweenBelowZero &&
                ". The crews' means scatter less than their runs: taken as none"}
            </dd>
          </dl>
          <CrewTable groups={groups} />
          <p class="lead">
            Terms of ISO 5725, a crew in the place of a laboratory; of measured over predicted, so that all
            levels count together. Assumes crews alike in scatter and runs independent.
          </p>
        </>
      ) : (
        <p>{found.issues.map(({ detail, remedy }) => `${detail}: ${remedy}.`).join(" ")}</p>
      )}
    </section>
  );
}

function CrewTable({ groups }: { readonly groups: readonly { crew: string; values: readonly number[] }[] }) {
  return (
    <DataTable
      caption="Each crew's mean"
      captionUnseen
      columns={["Crew", right("Runs"), right("Mean of measured over predicted"), right("95 %")]}
      rows={groups.map(({ crew, values }) => {
        const summary = summarizeReplicates(values);
        const mean = plainNumber(summary.ok ? summary.value.mean : values[0]!, 4);
        const interval = summary.ok ? `± ${plainNumber(summary.value.halfWidth, 2)}` : "–";
        return { key: crew, cells: [crew, String(values.length), mean, interval] };
      })}
    />
  );
}

function Outliers({ rows }: { readonly rows: readonly SeriesRow[] }) {
  const found = outlierTest(rows.map(({ ratio }) => ratio));
  if (!found.ok) return null;
  const { suspect, statistic, critical, isOutlier, significance, test, assumptions } = found.value;
  const run = rows[suspect]!.run;
  return (
    <section class="sheet" aria-labelledby="outliers-title">
      <h2 id="outliers-title">Outliers</h2>
      <p>
        Farthest out: <a href={addressOf("bench", "run", run.log)}>{run.code}</a>, {plainNumber(statistic, 3)}{" "}
        deviations from the mean of measured over predicted; {plainNumber(critical, 3)} is the limit at{" "}
        {plainNumber(100 * significance, 2)} %.{" "}
        <b>
          {isOutlier
            ? "Too far for its company: look for the cause in its record."
            : "Not too far for its company."}
        </b>{" "}
        Nothing is left out here: a run is left out for a cause that was found, never for its value.
      </p>
      <p class="lead">
        {test}. Assumes that {assumptions.join("; that ")}.
      </p>
    </section>
  );
}

function AllRuns({ rows }: { readonly rows: readonly SeriesRow[] }) {
  return (
    <section class="sheet" aria-labelledby="all-title">
      <h2 id="all-title">Every run</h2>
      <DataTable
        caption="Every run with its result"
        captionUnseen
        columns={[
          "Run",
          "Crew",
          "Level",
          right("Impulse, N·s"),
          right("u"),
          right("Predicted"),
          right("Ratio"),
          right("Specific impulse, s"),
          "Warnings",
        ]}
        rows={rows.map((row) => ({ key: row.run.log, cells: runCells(row) }))}
      />
    </section>
  );
}

function runCells({ run, level, impulse_Ns, u_Ns, predicted_Ns, ratio, event, confirmed }: SeriesRow) {
  const impulse = valueWithU(impulse_Ns, u_Ns);
  return [
    <span key="code" class="keep">
      <a href={addressOf("bench", "run", run.log)}>{run.code}</a>
      {!confirmed && " ?"}
    </span>,
    run.crew ?? "",
    <span key="level" class="keep">
      {level}
    </span>,
    impulse.value,
    impulse.u,
    plainNumber(predicted_Ns, 4),
    plainNumber(ratio, 4),
    plainNumber(event.report.specificImpulse_s, 3),
    event.warnings.map(({ code }) => warningNames[code] ?? code).join(", "),
  ];
}
