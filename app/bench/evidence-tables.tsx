import { useMemo } from "preact/hooks";
import {
  type CauseEvidence,
  type Difference,
  gatherEvidence,
  type ObservedQuantity,
} from "../../core/compare/evidence.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { predict } from "../../core/propulsion/prediction.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import type { ForceEvent, ForceRequest } from "../ports.ts";
import { DataTable, right } from "../widgets/data-table.tsx";
import { IssueList } from "./take-in-strip.tsx";

/**
 * What the finder of the water's end is good for, and what follows from it and from the ringing. A record's
 * impulse without its calibration is good to less than a thousandth; no model of ours is, so that a
 * difference below half a per cent asks for no cause. Judged, no source.
 */
const impulseRelU = 0.005;
const waterEndU_s = 0.003;
const jetAreaRelU = 0.01;
const jetEnergyRelU = 0.02;

/** Where record and prediction part, and what could account for it, each in order of size. */
export function EvidenceTables({
  setup,
  event,
  request,
}: {
  setup: ShotSetup;
  event: ForceEvent;
  request: ForceRequest;
}) {
  const found = useMemo(() => {
    const { report, withoutCalibration } = event;
    const sensitivityRelU = Math.max(
      0.001,
      ...(request.setup.channels ?? []).map((one) => one.sensitivityRelU),
    );
    return gatherEvidence(
      setup,
      [
        {
          quantity: "impulse_Ns",
          measured: report.impulse_Ns,
          u: Math.hypot(withoutCalibration.u, impulseRelU * report.impulse_Ns),
        },
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

const quantityNames: Readonly<Record<ObservedQuantity, { name: string; unit: string; scale: number }>> = {
  impulse_Ns: { name: "total impulse", unit: "N·s", scale: 1 },
  waterDuration_s: { name: "time the water takes", unit: "ms", scale: 1e3 },
  jetArea_m2: { name: "jet area that closes the mass", unit: "mm²", scale: 1e6 },
  jetEnergy_J: { name: "jet energy", unit: "J", scale: 1 },
};

function DifferenceTable({ differences }: { readonly differences: readonly Difference[] }) {
  return (
    <DataTable
      caption="Where record and prediction part, largest in its uncertainty first"
      columns={["Quantity", right("Measured"), right("Predicted"), right("Difference"), right("in u")]}
      rows={differences.map(({ quantity, measured, predicted, difference, u, inU }) => {
        const { name, unit, scale } = quantityNames[quantity];
        const shown = (value: number) => valueWithU(value * scale, u * scale).value;
        const cells = [
          shown(measured),
          shown(predicted),
          plus(difference) + shown(difference),
          plainNumber(inU, 2),
        ];
        return { key: quantity, cells: [`${name}, ${unit}`, ...cells] };
      })}
    />
  );
}

const plus = (value: number) => (value > 0 ? "+" : "");

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
    <DataTable
      caption="What each single input could account for, if it alone were off"
      columns={["If this were off", right("by"), right("in its u"), right("part of the misfit it takes")]}
      rows={worth.map(({ cause, change, changeInU, explains }) => {
        const { name, unit, scale } = causeNames[cause];
        const by = `${plus(change)}${plainNumber(change * scale, 2)} ${unit}`;
        return {
          key: cause,
          cells: [name, by, plainNumber(Math.abs(changeInU), 2), `${plainNumber(100 * explains, 2)} %`],
        };
      })}
    />
  );
}
