import { useMemo } from "preact/hooks";
import { precisionOf } from "../../core/series/crew-effects.ts";
import { outlierTest } from "../../core/series/outlier-test.ts";
import { summarizeReplicates } from "../../core/series/replicates.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import { addressOf } from "../address.ts";
import { Plot } from "../widgets/plot.tsx";
import type { Desk } from "./desk.ts";
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
        {waiting > 0 && (
          <p class="not-confirmed">{waiting} of them have a record that nobody has confirmed.</p>
        )}
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
          Points with their 95 % intervals; lines predicted for mean conditions with their band (k = 1). One
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
      <div class="scroll-x">
        <table>
          <caption>
            Total impulse at each level; the interval holds the mean with 95 % by Student's t, from scatter
            alone. What is common to all runs, above all the calibration, comes on top
          </caption>
          <thead>
            <tr>
              <th scope="col">Level</th>
              <th scope="col" class="right">
                Runs
              </th>
              <th scope="col" class="right">
                Mean, N·s
              </th>
              <th scope="col" class="right">
                s of a single run
              </th>
              <th scope="col" class="right">
                95 % of the mean
              </th>
              <th scope="col" class="right">
                Measured over predicted
              </th>
            </tr>
          </thead>
          <tbody>
            {levelsOf(rows).map((level) => (
              <LevelRow key={level} level={level} rows={rows.filter((row) => row.level === level)} />
            ))}
          </tbody>
        </table>
      </div>
      <p class="lead">
        Total impulse. The interval holds the mean with 95 % by Student's t, from scatter alone; what is
        common to all runs, above all the calibration, comes on top.
      </p>
    </section>
  );
}

function LevelRow({ level, rows }: { readonly level: string; readonly rows: readonly SeriesRow[] }) {
  const summary = summarizeReplicates(rows.map(({ impulse_Ns }) => impulse_Ns));
  const ratio = rows.reduce((sum, row) => sum + row.ratio, 0) / rows.length;
  return (
    <tr>
      <th scope="row">{level}</th>
      <td class="right">{rows.length}</td>
      {summary.ok ? (
        <>
          <td class="right">{valueWithU(summary.value.mean, summary.value.u).value}</td>
          <td class="right">{plainNumber(summary.value.deviation, 2)}</td>
          <td class="right">± {plainNumber(summary.value.halfWidth, 2)}</td>
        </>
      ) : (
        <td colSpan={3} class="lead">
          one run: no scatter to speak of
        </td>
      )}
      <td class="right">{plainNumber(ratio, 4)}</td>
    </tr>
  );
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
          <dl class="facts">
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
    <table>
      <thead>
        <tr>
          <th scope="col">Crew</th>
          <th scope="col" class="right">
            Runs
          </th>
          <th scope="col" class="right">
            Mean of measured over predicted
          </th>
          <th scope="col" class="right">
            95 %
          </th>
        </tr>
      </thead>
      <tbody>
        {groups.map(({ crew, values }) => {
          const summary = summarizeReplicates(values);
          return (
            <tr key={crew}>
              <th scope="row">{crew}</th>
              <td class="right">{values.length}</td>
              <td class="right">
                {summary.ok ? plainNumber(summary.value.mean, 4) : plainNumber(values[0]!, 4)}
              </td>
              <td class="right">{summary.ok ? `± ${plainNumber(summary.value.halfWidth, 2)}` : "–"}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
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
      <div class="scroll-x">
        <table>
          <thead>
            <tr>
              {[
                "Run",
                "Crew",
                "Level",
                "Impulse, N·s",
                "u",
                "Predicted",
                "Ratio",
                "Specific impulse, s",
                "Warnings",
              ].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ run, level, impulse_Ns, u_Ns, predicted_Ns, ratio, event, confirmed }) => (
              <tr key={run.log}>
                <th scope="row" class="keep">
                  <a href={addressOf("bench", "run", run.log)}>{run.code}</a>
                  {!confirmed && " ?"}
                </th>
                <td>{run.crew}</td>
                <td class="keep">{level}</td>
                <td>{valueWithU(impulse_Ns, u_Ns).value}</td>
                <td>{valueWithU(impulse_Ns, u_Ns).u}</td>
                <td>{plainNumber(predicted_Ns, 4)}</td>
                <td>{plainNumber(ratio, 4)}</td>
                <td>{plainNumber(event.report.specificImpulse_s, 3)}</td>
                <td>{event.warnings.length > 0 ? event.warnings.map(({ code }) => code).join(", ") : ""}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
