import { useState } from "preact/hooks";
import type { ExponentFit } from "../../core/compare/exponent-fit.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import type { BesideSheetProps } from "./beside-sheet.tsx";
import { IssueList } from "./take-in-strip.tsx";
import { useLatest } from "./use-force.ts";

/** The exponent that brings the model onto the record, when somebody asks for it: it takes a moment. */
export function FitRow({ view, file, place, request }: BesideSheetProps) {
  const [asked, setAsked] = useState(false);
  const fit = useLatest(
    asked ? { key: JSON.stringify([file.digest, request, place]), digest: file.digest, request } : undefined,
    view,
    (source, ask, work) => view.force.fit(source, ask.request, place, work),
  );
  if (!asked)
    return (
      <button type="button" class="button small no-print" onClick={() => setAsked(true)}>
        Fit the exponent to this record
      </button>
    );
  if (!fit) return <p role="status">Fitting…</p>;
  return fit.result.ok ? <Fitted fit={fit.result.value} /> : <IssueList issues={fit.result.issues} />;
}

function Fitted({ fit }: { readonly fit: ExponentFit }) {
  const { value, u } = valueWithU(fit.exponent, fit.u);
  const [largest] = fit.rows;
  return (
    <p>
      Fitted with the {fit.model} model: n = {value}, u = {u}
      {largest && `, mostly from ${sourceNames[largest.source] ?? largest.source}`}; effective jet{" "}
      {plainNumber(100 * fit.contraction, 3)} % of the opening, release {plainNumber(1e3 * fit.delay_s, 2)} ms
      after the onset, {plainNumber(fit.residual_N, 2)} N left over. Pressure, velocity coefficient and
      sensitivity move the curve nearly alike: this record alone cannot tell them apart.
    </p>
  );
}

const sourceNames: Readonly<Record<string, string>> = {
  setPressure_Pa: "the pressure",
  velocityCoefficient: "the velocity coefficient",
  bottleVolume_m3: "the bottle's capacity",
  water_kg: "the water",
  ambientPressure_Pa: "the surroundings",
  sensitivity: "the sensitivity",
  scatter: "the scatter about the curve",
};
