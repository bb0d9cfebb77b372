import type { ComponentChildren } from "preact";
import { useMemo, useState } from "preact/hooks";
import { matrixName } from "../../core/plan/matrix-file.ts";
import {
  type MatrixProgress,
  matrixProgress,
  type Slot,
  type TestMatrix,
} from "../../core/plan/test-matrix.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { matrixTolerance } from "../session/matrix-queue.ts";
import "../widgets/desk.css";
import { inUnit, type UnitChoice, type UnitKind, unitScale } from "../widgets/unit-choice.ts";
import { HarmSheet } from "./harm-sheet.tsx";
import { MapSheet } from "./map-sheet.tsx";
import { matrixCsv } from "./matrix-csv.ts";
import { MatrixSheet } from "./matrix-sheet.tsx";
import { OptimumSheet } from "./optimum-sheet.tsx";
import "./plan.css";
import { PlanForm } from "./plan-form.tsx";
import { type Shown, shownQuantities } from "./plan-map.ts";
import {
  numbersOf,
  type PlanKey,
  type PlanNumbers,
  type Plan as PlanRead,
  planDensity_kg_m3,
  readPlan,
} from "./plan-numbers.ts";
import { PointSheet } from "./point-sheet.tsx";
import { SupplySheet, type SupplySheetProps } from "./supply-sheet.tsx";
import { type PlanPorts, useDoneRuns, useMatrix, useSettled, useUnits } from "./use-plan.ts";

/** What to test next, what it will give, what it can do to you, and how far the air reaches. */
export function Plan({ ports, home }: { readonly ports: PlanPorts; readonly home: string }) {
  const [rig, setRig] = useState<Rig>(ports.rigs[0]!);
  const [numbers, setNumbers] = useState<PlanNumbers>(() => numbersOf(rig));
  const [units, setUnit] = useUnits(ports.preferences);
  const choose = (id: string) => {
    const chosen = ports.rigs.find((one) => one.id === id);
    if (!chosen) return;
    setRig(chosen);
    setNumbers(numbersOf(chosen));
  };
  const setNumber = (key: PlanKey, value: number | undefined) =>
    setNumbers((now) => ({ ...now, [key]: value }));
  return (
    <div class="desk plan">
      <header class="desk-top">
        <h1>Plan</h1>
        <label class="no-print">
          Stand{" "}
          <select class="desk-select" value={rig.id} onChange={(event) => choose(event.currentTarget.value)}>
            {ports.rigs.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        {rig.synthetic && <span class="tag synthetic">SYNTHETIC</span>}
        <nav aria-label="Other faces">
          <button type="button" class="button small" onClick={() => print()}>
            Print
          </button>
          <a href={home}>Start</a>
        </nav>
      </header>
      <Sheets
        {...{ ports, rig, numbers, units, setNumber, setUnit }}
        onReset={() => setNumbers(numbersOf(rig))}
      />
    </div>
  );
}

type SheetsProps = {
  readonly ports: PlanPorts;
  readonly rig: Rig;
  readonly numbers: PlanNumbers;
  readonly units: UnitChoice;
  readonly setNumber: (key: PlanKey, value: number | undefined) => void;
  readonly setUnit: (kind: UnitKind, symbol: string) => void;
  readonly onReset: () => void;
};

function Sheets(props: SheetsProps) {
  const { numbers, units, setNumber, setUnit } = props;
  const [shown, setShown] = useState<Shown>(shownQuantities[0]);
  const { plan, settled, matrix, progress, runs, toRun, piped, density_kg_m3 } = usePlan(props);
  return (
    <div class="plan-columns">
      <aside class="plan-side no-print" aria-label="Numbers">
        <PlanForm
          {...{ numbers, units, piped }}
          issues={plan.ok ? [] : plan.issues}
          onNumber={setNumber}
          onUnit={setUnit}
        />
        <button type="button" class="button small" onClick={props.onReset}>
          Back to the stand's own numbers
        </button>
      </aside>
      <main class="plan-main">
        <p class="print-only">{givenInWords(numbers, units, density_kg_m3)}</p>
        {plan.ok ? (
          <MapSheet
            {...{ units, shown, runs, toRun }}
            {...plan.value}
            onShown={setShown}
            onNumber={setNumber}
          />
        ) : (
          <p class="plan-stopped" role="status">
            Nothing is computed until every field holds: look for ✕ in the form.
          </p>
        )}
        <Once of={[settled, units, toRun, numbers.tankPressure_Pa, numbers.workingMin_Pa]}>
          {() => settled.ok && <Consequences {...settled.value} {...{ numbers, units, piped, toRun }} />}
        </Once>
        <Once of={[matrix.draft, matrix.saved, progress, units]}>
          {() => (
            <MatrixSheet
              {...matrix}
              {...{ progress, units, density_kg_m3 }}
              ShowCode={props.ports.ShowCode}
              onExport={() => exportMatrix(props, matrix.matrix, progress)}
              onFile={() => props.ports.transfer.save(matrixName(props.rig.id), matrix.text)}
            />
          )}
        </Once>
      </main>
    </div>
  );
}

/** Everything that follows from the stand, the numbers and what this device holds. */
function usePlan({ ports, rig, numbers, units }: SheetsProps) {
  const density_kg_m3 = planDensity_kg_m3(numbers);
  const runs = useDoneRuns(ports, rig.id);
  const scales = { water: unitScale("water", units, density_kg_m3), pressure: unitScale("pressure", units) };
  const matrix = useMatrix(ports, rig, scales);
  const progress = useMemo(
    () => matrix.matrix && matrixProgress(matrix.matrix, runs, matrixTolerance(rig)),
    [matrix.matrix, runs, rig],
  );
  const plan = readPlan(rig, numbers);
  const settled = useSettled(plan);
  const toRun = progress?.toRun ?? nothing;
  return { plan, settled, matrix, progress, runs, toRun, density_kg_m3, piped: rig.supply.kind === "piped" };
}

function exportMatrix(
  { ports, rig }: SheetsProps,
  matrix: TestMatrix | undefined,
  progress: MatrixProgress | undefined,
) {
  if (matrix) ports.transfer.save(`matrix-${rig.id}.csv`, matrixCsv(matrix, progress));
}

const nothing: readonly Slot[] = [];

/** Everything that follows from the point and may come a moment after the map. */
function Consequences(props: PlanRead & SupplySheetProps) {
  return (
    <>
      <PointSheet {...props} />
      <OptimumSheet {...props} />
      <HarmSheet {...props} />
      <SupplySheet {...props} />
    </>
  );
}

/** Renders again only when one of `of` has changed: a slider then redraws the map and nothing else. */
function Once({
  of,
  children,
}: {
  readonly of: readonly unknown[];
  readonly children: () => ComponentChildren;
}) {
  return useMemo(() => <>{children()}</>, of);
}

function givenInWords(numbers: PlanNumbers, units: UnitChoice, density_kg_m3: number): string {
  const { water_kg, setPressure_Pa, bottleVolume_m3 } = numbers;
  if (water_kg === undefined || setPressure_Pa === undefined || bottleVolume_m3 === undefined) return "";
  return `${inUnit(water_kg, "water", units, density_kg_m3)} of water at ${inUnit(setPressure_Pa, "pressure", units)} in ${inUnit(bottleVolume_m3, "volume", units)}.`;
}
