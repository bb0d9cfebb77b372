import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { supplyBudget, supplyOutlook } from "../../core/plan/supply-budget.ts";
import type { Slot } from "../../core/plan/test-matrix.ts";
import { inUnit, type UnitChoice } from "../widgets/unit-choice.ts";
import type { PlanNumbers } from "./plan-numbers.ts";

export type SupplySheetProps = {
  readonly setup: ShotSetup;
  readonly numbers: PlanNumbers;
  readonly units: UnitChoice;
  readonly piped: boolean;
  /** Slots of the matrix that are still to run, in their order. */
  readonly toRun: readonly Slot[];
};

/** How far the air reaches: for fills like this point, and for the rest of the matrix in its order. */
export function SupplySheet(props: SupplySheetProps) {
  return (
    <section class="sheet" aria-labelledby="supply-title">
      <h2 id="supply-title">How far the air reaches</h2>
      {props.piped ? (
        <p>This stand's air is piped: there is no tank to run down. Read its gauge before every run.</p>
      ) : (
        <Tank {...props} />
      )}
    </section>
  );
}

function Tank({ setup, numbers, units, toRun }: SupplySheetProps) {
  const { tankVolume_m3, tankPressure_Pa, workingMin_Pa, hoseVolume_m3, regulatorDrop_Pa } = numbers;
  if (
    tankVolume_m3 === undefined ||
    tankPressure_Pa === undefined ||
    workingMin_Pa === undefined ||
    hoseVolume_m3 === undefined ||
    regulatorDrop_Pa === undefined
  )
    return <p>Enter every number of the supply to see how many fills it gives.</p>;
  const tank = { volume_m3: tankVolume_m3, pressure_Pa: tankPressure_Pa, workingMin_Pa };
  const line = { hoseVolume_m3, regulatorDrop_Pa };
  const airOf = (water_kg: number) => setup.bottleVolume_m3 - water_kg / setup.waterDensity_kg_m3;
  const like = supplyBudget(tank, line, {
    setPressure_Pa: setup.setPressure_Pa,
    airVolume_m3: airOf(setup.water_kg),
  });
  const fills = toRun.map(({ water_kg, setPressure_Pa }) => ({
    setPressure_Pa,
    airVolume_m3: airOf(water_kg),
  }));
  const outlook = supplyOutlook(tank, line, fills);
  const refill = outlook.findIndex(({ verdict }) => verdict !== "good");
  return (
    <>
      <p>
        Like this point: <b>{like.fillsInBand} fills</b> inside the working band, {like.fills} until the
        supply cannot give {inUnit(setup.setPressure_Pa, "pressure", units)}; each takes{" "}
        {inUnit(Number(like.dropPerFill_Pa.toPrecision(2)), "pressure", units)} of the tank.
      </p>
      {toRun.length > 0 && (
        <p>
          The matrix:{" "}
          {refill < 0 ? (
            `all ${toRun.length} runs to come stay inside the band, ending at `
          ) : (
            <b>call for a refill before run {toRun[refill]!.order}, at </b>
          )}
          {inUnit(refill < 0 ? outlook.at(-1)!.after_Pa : outlook[refill]!.before_Pa, "pressure", units)}.
        </p>
      )}
      <p class="lead">
        At constant temperature between fills, each from a vented bottle: p falls by p_set (V₀ +
        V_hose)/V_tank. Fast fills warm the bottle and cool the tank; the gauge has the last word.
      </p>
    </>
  );
}
