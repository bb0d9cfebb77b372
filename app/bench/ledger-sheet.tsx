import { type Denominator, energyLedger, type LedgerStage } from "../../core/compare/energy-ledger.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { discArea_m2 } from "../../core/propulsion/shot.ts";
import { pneumaticTestEdition } from "../../core/propulsion/stored-energy.ts";
import { plainNumber } from "../../core/units/value-text.ts";
import type { ForceEvent } from "../ports.ts";
import { DataTable, right } from "../widgets/data-table.tsx";

const stageNames: Readonly<Record<LedgerStage, string>> = {
  "stored-brode": "put in at constant volume (Brode)",
  "stored-pcc2": `stored, ${pneumaticTestEdition}`,
  "available-isothermal": "the air can give at constant temperature",
  "available-isentropic": "the air can give without heat",
  "work-on-water": "work on the water, predicted",
  "work-of-head": "head of the water itself, predicted",
  "left-in-air": "left in the air when the water ends, predicted",
  "jet-predicted": "jet, predicted",
  "jet-measured": "jet, from this record",
  "least-for-impulse-predicted": "least for the predicted impulse, I²/2m",
  "least-for-impulse-measured": "least for the measured impulse, I²/2m",
};

const denominators: readonly { readonly key: Denominator; readonly name: string }[] = [
  { key: "available-isentropic", name: "of what it can give without heat" },
  { key: "available-isothermal", name: "of what it can give at constant temperature" },
  { key: "work-on-water", name: "of the work on the water" },
];

/** From stored air to jet to thrust; every share under the name of what it is a share of. */
export function LedgerSheet({ setup, event }: { readonly setup: ShotSetup; readonly event: ForceEvent }) {
  const { report } = event;
  const rows = energyLedger(setup, {
    jetEnergy_J: report.jetEnergy_J,
    waterImpulse_Ns: event.waterImpulse_Ns,
    expelled_kg: report.expelled_kg,
  });
  return (
    <section class="sheet" aria-labelledby="ledger-title">
      <h2 id="ledger-title">Where the energy went</h2>
      <DataTable
        caption="Energy ledger"
        captionUnseen
        columns={["Energy", right("J"), ...denominators.map(({ name }) => right(name))]}
        rows={rows.map(({ stage, energy_J, share }) => ({
          key: stage,
          strong: stage.endsWith("measured"),
          cells: [
            stageNames[stage],
            plainNumber(energy_J, 3),
            ...denominators.map(({ key }) => `${plainNumber(100 * share[key], 3)} %`),
          ],
        }))}
      />
      <Closure setup={setup} event={event} />
    </section>
  );
}

function Closure({ setup, event }: { readonly setup: ShotSetup; readonly event: ForceEvent }) {
  const { jetArea_m2, polytropicExponent } = event.report;
  const opening_m2 = discArea_m2(setup.openingDiameter_m);
  return (
    <p>
      Closure: the water that left needs a jet of {plainNumber(1e6 * jetArea_m2, 4)} mm²,{" "}
      {plainNumber((100 * jetArea_m2) / opening_m2, 3)} % of the opening's {plainNumber(1e6 * opening_m2, 4)}{" "}
      mm².
      {polytropicExponent !== undefined &&
        ` The slope of pressure over volume in the record is n = ${plainNumber(polytropicExponent, 3)}.`}{" "}
      Thrust makes no use of the jet's energy beyond I²/2m, what the water would need if all of it left at one
      speed.
    </p>
  );
}
