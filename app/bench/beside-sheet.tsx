import { useMemo, useState } from "preact/hooks";
import { type PredictedBand, predictedBand } from "../../core/compare/predicted-band.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { plainNumber } from "../../core/units/value-text.ts";
import type { ForceEvent, ForceRequest } from "../ports.ts";
import { Plot } from "../widgets/plot.tsx";
import type { PlotSpec } from "../widgets/plot-spec.ts";
import type { DeskFile } from "./desk-file.ts";
import { EvidenceTables } from "./evidence-tables.tsx";
import { FitRow } from "./fit-row.tsx";
import { IssueList } from "./take-in-strip.tsx";
import { type ForceView, useCurves } from "./use-force.ts";

export type BesideSheetProps = {
  readonly view: ForceView;
  readonly file: DeskFile;
  readonly place: number;
  readonly request: ForceRequest;
  readonly setup: ShotSetup;
  readonly event: ForceEvent;
};

const room_s = 0.015;
const columns = 900;
const points = 400;

/** The prediction for the run's own conditions on the same axes, and where the two part, in order of size. */
export function BesideSheet(props: BesideSheetProps) {
  const { view, file, request, setup, event } = props;
  const [smooth, setSmooth] = useState(true);
  const curves = useCurves(view, file.digest, request, {
    names: [smooth ? "envelope" : "thrust"],
    from_s: event.onset_s - room_s,
    to_s: event.end_s + room_s,
    columns,
  });
  const length_s = event.end_s - event.onset_s + room_s;
  const band = useMemo(() => {
    const t_s = Float64Array.from({ length: points }, (_, i) => (length_s * i) / (points - 1));
    return predictedBand(setup, t_s, { unsteady: false });
  }, [setup, length_s]);
  const [curve] = curves?.ok ? curves.value : [];
  const spec = useMemo(
    () =>
      band.ok && curve
        ? besideSpec(
            band.value,
            curve.x.map((t) => t - event.onset_s),
            curve.y,
            event,
          )
        : undefined,
    [band, curve, event],
  );
  return (
    <section class="sheet" aria-labelledby="beside-title">
      <h2 id="beside-title">Beside the prediction for its own conditions</h2>
      {!band.ok && <IssueList issues={band.issues} />}
      {spec && <Plot spec={spec} />}
      <p class="legend">
        <span class="key-line">measured{smooth ? ", after a 60 Hz low-pass" : ""}</span>
        <span class="key-dash">predicted thrust of the jet, with its band (k = 1)</span>
        <label class="no-print">
          <input type="checkbox" checked={smooth} onChange={() => setSmooth(!smooth)} /> smoothed
        </label>
      </p>
      <EvidenceTables setup={setup} event={event} request={request} />
      <FitRow {...props} />
    </section>
  );
}

function besideSpec(
  band: PredictedBand,
  t_s: Float64Array,
  measured_N: Float64Array,
  event: ForceEvent,
): PlotSpec {
  const { u_N, thrust_N } = band;
  const greatest = Math.max(1, ...measured_N.filter(Number.isFinite), ...thrust_N);
  return {
    label: `Measured and predicted thrust over time after the onset, measured impulse ${plainNumber(event.report.impulse_Ns, 4)} N·s`,
    x: { label: "time after the onset, s →", domain: [-room_s, band.t_s.at(-1)!] },
    y: { label: "↑ thrust, N", domain: [Math.min(0, -0.04 * greatest), 1.08 * greatest] },
    height_px: 320,
    marks: [
      {
        kind: "band",
        x: band.t_s,
        low: thrust_N.map((thrust, i) => Math.max(0, thrust - u_N[i]!)),
        high: thrust_N.map((thrust, i) => thrust + u_N[i]!),
        tone: "predicted",
      },
      { kind: "level", y: 0, tone: "faint" },
      { kind: "line", x: band.t_s, y: thrust_N, tone: "predicted" },
      { kind: "line", x: t_s, y: measured_N, tone: "measured" },
      { kind: "upright", x: event.waterEnd_s - event.onset_s, tone: "faint", text: "water ends" },
    ],
  };
}
