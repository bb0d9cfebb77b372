import {
  type Denominator,
  energyLedger,
  type LedgerRow,
  type LedgerStage,
} from "../../core/compare/energy-ledger.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { discArea_m2 } from "../../core/propulsion/shot.ts";
import { pneumaticTestEdition } from "../../core/propulsion/stored-energy.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import type { ForceEvent } from "../ports.ts";

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
      <div class="scroll-x">
        <table>
          <caption class="unseen">Energy ledger</caption>
          <thead>
            <tr>
              <th scope="col">Energy</th>
              <th scope="col" class="right">
                J
              </th>
              {denominators.map(({ key, name }) => (
                <th key={key} scope="col" class="right">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Row key={row.stage} row={row} />
            ))}
          </tbody>
        </table>
      </div>
      <Closure setup={setup} event={event} />
    </section>
  );
}

function Row({ row }: { readonly row: LedgerRow }) {
  return (
    <tr data-measured={row.stage.endsWith("measured")}>
      <th scope="row">{stageNames[row.stage]}</th>
      <td class="right">{plainNumber(row.energy_J, 3)}</td>
      {denominators.map(({ key }) => (
        <td key={key} class="right">
          {plainNumber(100 * row.share[key], 3)} %
        </td>
      ))}
    </tr>
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
        ` The slope of pressure over volume in the record is n = ${valueWithU(polytropicExponent, exponentU).value}.`}
    </p>
  );
}

/** What a slope read off one record is good for at best; the fit in the comparison has its own budget. */
const exponentU = 0.01;
