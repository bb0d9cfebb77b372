import { useMemo, useState } from "preact/hooks";
import {
  type CauseEvidence,
  type Difference,
  gatherEvidence,
  type ObservedQuantity,
} from "../../core/compare/evidence.ts";
import { type PredictedBand, predictedBand } from "../../core/compare/predicted-band.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { predict } from "../../core/propulsion/prediction.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import type { ForceEvent, ForceRequest } from "../ports.ts";
import { Plot } from "../widgets/plot.tsx";
import type { PlotSpec } from "../widgets/plot-spec.ts";
import type { DeskFile } from "./desk-file.ts";
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
      <p class="plan-legend">
        <span class="key-line">measured{smooth ? ", after a 60 Hz low-pass" : ""}</span>
        <span class="key-dash">predicted thrust of the jet, with its band (k = 1)</span>
        <label class="no-print">
          <input type="checkbox" checked={smooth} onChange={() => setSmooth(!smooth)} /> smoothed
        </label>
      </p>
      <Evidence setup={setup} event={event} request={request} />
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

const quantityNames: Readonly<Record<ObservedQuantity, { name: string; unit: string; scale: number }>> = {
  impulse_Ns: { name: "total impulse", unit: "N·s", scale: 1 },
  waterDuration_s: { name: "time the water takes", unit: "ms", scale: 1e3 },
  jetArea_m2: { name: "jet area that closes the mass", unit: "mm²", scale: 1e6 },
  jetEnergy_J: { name: "jet energy", unit: "J", scale: 1 },
};

/** What the finder of the water's end is good for, and what follows from it and from the ringing. Judged, no source. */
const waterEndU_s = 0.003;
const jetAreaRelU = 0.01;
const jetEnergyRelU = 0.02;

function Evidence({ setup, event, request }: { setup: ShotSetup; event: ForceEvent; request: ForceRequest }) {
  const found = useMemo(() => {
    const { report, withoutCalibration } = event;
    const sensitivityRelU = Math.max(
      0.001,
      ...(request.setup.channels ?? []).map((one) => one.sensitivityRelU),
    );
    return gatherEvidence(
      setup,
      [
        { quantity: "impulse_Ns", measured: report.impulse_Ns, u: withoutCalibration.u },
        { quantity: "waterDuration_s", measured: event.waterEnd_s - event.onset_s, u: waterEndU_s },
        { quantity: "jetArea_m2", measured: report.jetArea_m2, u: jetAreaRelU * report.jetArea_m2 },
        { quantity: "jetEnergy_J", measured: report.jetEnergy_J, u: jetEnergyRelU * report.jetEnergy_J },
      ],
      { sensitivityRelU, zeroU_N: 0.1 },
    );
  }, [setup, event, request]);
  const predicted = predict(setup);
  if (!found.ok) return <IssueList issues={found.issues} />;
  return (
    <>
      {predicted.ok && (
        <p>
          Predicted: {valueWithU(predicted.value.impulse_Ns, predicted.value.u.impulse_Ns).value} N·s, u ={" "}
          {valueWithU(predicted.value.impulse_Ns, predicted.value.u.impulse_Ns).u} N·s. Measured:{" "}
          {valueWithU(event.report.impulse_Ns, event.budget.u).value} N·s, u ={" "}
          {valueWithU(event.report.impulse_Ns, event.budget.u).u} N·s.
        </p>
      )}
      <DifferenceTable differences={found.value.differences} />
      <CauseTable causes={found.value.causes} />
      <p class="lead">
        Evidence by size, no verdict: several may fit as well, two may act at once, and what the model leaves
        out is not listed.
      </p>
    </>
  );
}

function DifferenceTable({ differences }: { readonly differences: readonly Difference[] }) {
  return (
    <div class="scroll-x">
      <table>
        <caption>Where record and prediction part, largest in its uncertainty first</caption>
        <thead>
          <tr>
            <th scope="col">Quantity</th>
            <th scope="col" class="right">
              Measured
            </th>
            <th scope="col" class="right">
              Predicted
            </th>
            <th scope="col" class="right">
              Difference
            </th>
            <th scope="col" class="right">
              in u
            </th>
          </tr>
        </thead>
        <tbody>
          {differences.map(({ quantity, measured, predicted, difference, u, inU }) => {
            const { name, unit, scale } = quantityNames[quantity];
            return (
              <tr key={quantity}>
                <th scope="row">
                  {name}, {unit}
                </th>
                <td class="right">{valueWithU(measured * scale, u * scale).value}</td>
                <td class="right">{valueWithU(predicted * scale, u * scale).value}</td>
                <td class="right">
                  {difference > 0 ? "+" : ""}
                  {valueWithU(difference * scale, u * scale).value}
                </td>
                <td class="right">{plainNumber(inU, 2)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

const causeNames: Readonly<Record<CauseEvidence["cause"], { name: string; unit: string; scale: number }>> = {
  polytropicExponent: { name: "exponent of the air", unit: "", scale: 1 },
  velocityCoefficient: { name: "velocity coefficient", unit: "", scale: 1 },
  setPressure_Pa: { name: "pressure at release", unit: "bar", scale: 1e-5 },
  bottleVolume_m3: { name: "bottle's capacity", unit: "mL", scale: 1e6 },
  water_kg: { name: "water", unit: "g", scale: 1e3 },
  ambientPressure_Pa: { name: "surroundings", unit: "hPa", scale: 1e-2 },
  contraction: { name: "contraction of the jet", unit: "", scale: 1 },
  openingDiameter_m: { name: "opening", unit: "mm", scale: 1e3 },
  sensitivity: { name: "sensors' sensitivity", unit: "%", scale: 100 },
  zero_N: { name: "zero of the record", unit: "N", scale: 1 },
};

/** Hardly anything: not worth a line. */
const leastExplained = 0.02;

function CauseTable({ causes }: { readonly causes: readonly CauseEvidence[] }) {
  const worth = causes.filter(({ explains }) => explains >= leastExplained);
  if (worth.length === 0) return <p class="lead">No single input accounts for more than a fiftieth of it.</p>;
  return (
    <div class="scroll-x">
      <table>
        <caption>What each single input could account for, if it alone were off</caption>
        <thead>
          <tr>
            <th scope="col">If this were off</th>
            <th scope="col" class="right">
              by
            </th>
            <th scope="col" class="right">
              in its u
            </th>
            <th scope="col" class="right">
              it would account for
            </th>
          </tr>
        </thead>
        <tbody>
          {worth.map(({ cause, change, changeInU, explains }) => {
            const { name, unit, scale } = causeNames[cause];
            return (
              <tr key={cause}>
                <th scope="row">{name}</th>
                <td class="right">
                  {change > 0 ? "+" : ""}
                  {plainNumber(change * scale, 2)} {unit}
                </td>
                <td class="right">{plainNumber(Math.abs(changeInU), 2)}</td>
                <td class="right">{plainNumber(100 * explains, 2)} %</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
