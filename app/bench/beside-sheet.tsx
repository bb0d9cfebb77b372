import { useMemo, useState } from "preact/hooks";
import { type PredictedBand, predictedBand } from "../../core/compare/predicted-band.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { lowPass } from "../../core/force/low-pass.ts";
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
/** Close enough for the start spike, which is a few milliseconds wide. */
const step_s = 1e-4;
const corner_Hz = 60;
/** Of both bands: what is outside of both is hardly chance. */
const k = 2;

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
  const unsteady = setup.bottleDiameter_m !== undefined;
  const end_s = event.end_s - event.onset_s + room_s;
  const band = useMemo(() => {
    const count = Math.ceil((end_s + room_s) / step_s);
    const t_s = Float64Array.from({ length: count }, (_, i) => i * step_s - room_s);
    const found = predictedBand(setup, t_s, { unsteady });
    return found.ok && smooth ? { ...found, value: smoothed(found.value) } : found;
  }, [setup, end_s, unsteady, smooth]);
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
        <span class="key-line">measured</span>
        <span class="key-dash">
          {unsteady
            ? "predicted force on the stand, released at once"
            : "predicted thrust of the jet, without start spike: the bottle's diameter is not known"}
        </span>
        <span>
          each with its band (k = {k}){smooth ? ", both after a 60 Hz low-pass" : ""}
        </span>
        <label class="no-print">
          <input type="checkbox" checked={smooth} onChange={() => setSmooth(!smooth)} /> smoothed
        </label>
      </p>
      <EvidenceTables setup={setup} event={event} request={request} />
      <FitRow {...props} />
    </section>
  );
}

/** As the record was: a spike that only one of the two shows would look like a difference. */
const smoothed = ({ t_s, thrust_N, u_N }: PredictedBand): PredictedBand => ({
  t_s,
  thrust_N: lowPass(thrust_N, 1 / step_s, corner_Hz),
  u_N: lowPass(u_N, 1 / step_s, corner_Hz),
});

/** k = 1 of the measured force at one moment: the channels' calibration as a part of it, their zeros in newtons. */
function measuredU({ budget, report, onset_s, end_s }: ForceEvent) {
  const lineU = (wanted: (source: string) => boolean) =>
    Math.hypot(...budget.contributions.filter(({ source }) => wanted(source)).map(({ u }) => u));
  const relU = lineU((source) => source === "calibration") / Math.abs(report.impulse_Ns);
  const zeroU_N = lineU((source) => source.startsWith("zero ")) / (end_s - onset_s);
  return (thrust_N: number) => Math.hypot(relU * thrust_N, zeroU_N);
}

function besideSpec(
  band: PredictedBand,
  t_s: Float64Array,
  measured_N: Float64Array,
  event: ForceEvent,
): PlotSpec {
  const { u_N, thrust_N } = band;
  const uOf = measuredU(event);
  const shown = [...measured_N.filter(Number.isFinite), ...thrust_N];
  const greatest = shown.reduce((most, value) => Math.max(most, value), 1);
  const least = shown.reduce((lowest, value) => Math.min(lowest, value), 0);
  return {
    label: `Measured and predicted thrust over time after the onset, measured impulse ${plainNumber(event.report.impulse_Ns, 4)} N·s`,
    x: { label: "time after the onset, s →", domain: [-room_s, band.t_s.at(-1)!] },
    y: { label: "↑ thrust, N", domain: [1.05 * least - 0.06 * greatest, 1.1 * greatest] },
    height_px: 320,
    marks: [
      {
        kind: "band",
        x: band.t_s,
        low: thrust_N.map((thrust, i) => thrust - k * u_N[i]!),
        high: thrust_N.map((thrust, i) => thrust + k * u_N[i]!),
        tone: "predicted",
      },
      {
        kind: "band",
        x: t_s,
        low: measured_N.map((thrust) => thrust - k * uOf(thrust)),
        high: measured_N.map((thrust) => thrust + k * uOf(thrust)),
        tone: "measured",
      },
      { kind: "level", y: 0, tone: "faint" },
      { kind: "line", x: band.t_s, y: thrust_N, tone: "predicted" },
      { kind: "line", x: t_s, y: measured_N, tone: "measured" },
      { kind: "upright", x: event.waterEnd_s - event.onset_s, tone: "faint", text: "water ends" },
    ],
  };
}
