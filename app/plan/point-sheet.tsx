import type { Assumed } from "../../core/exchange/setup-fields.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { predict } from "../../core/propulsion/prediction.ts";
import { type BudgetRow, predictionBudget } from "../../core/propulsion/prediction-budget.ts";
import { plainNumber, shortNumber, valueWithU } from "../../core/units/value-text.ts";
import { DataTable, right } from "../widgets/data-table.tsx";
import { Figure } from "../widgets/figure.tsx";

/** What the chosen point will give, with what the inputs leave open. */
export function PointSheet({ setup, assumed }: { readonly setup: ShotSetup; readonly assumed: Assumed }) {
  const found = predict(setup);
  if (!found.ok) return null;
  const { water, air, energy, impulse_Ns, specificImpulse_s, u } = found.value;
  const impulse = valueWithU(impulse_Ns, u.impulse_Ns);
  return (
    <section class="sheet" aria-labelledby="point-title">
      <h2 id="point-title">This point will give</h2>
      <dl class="figures">
        <Figure
          name="Total impulse"
          value={impulse.value}
          unit="N·s"
          notes={[`u = ${impulse.u} N·s (k = 1)`]}
        />
        <Figure
          name="Specific impulse"
          value={specificImpulse_s === null ? "none" : plainNumber(specificImpulse_s, 3)}
          unit="s"
          notes={["per weight of the water that leaves"]}
        />
        <Figure
          name="Thrust at the start"
          value={plainNumber(water.thrustStart_N, 3)}
          unit="N"
          notes={[`falls to ${plainNumber(water.thrustEnd_N, 3)} N; a spike of 3–4 ms comes on top`]}
        />
        <Figure
          name="Duration"
          value={plainNumber(1e3 * (water.duration_s + air.duration_s), 3)}
          unit="ms"
          notes={[`water ${plainNumber(1e3 * water.duration_s, 3)} ms, then air`]}
        />
        <Figure
          name="Jet energy"
          value={plainNumber(water.jetEnergy_J, 3)}
          unit="J"
          notes={[
            `${percent(water.jetEnergy_J / energy.isentropicAvailable_J)} of what the air can give without heat (${plainNumber(energy.isentropicAvailable_J, 3)} J)`,
          ]}
        />
        <Figure
          name="Water that leaves"
          value={plainNumber(1e3 * water.expelled_kg, 3)}
          unit="g"
          notes={[
            water.left_kg > 0
              ? `${plainNumber(1e3 * water.left_kg, 3)} g stay: the drive ends first`
              : "all of it",
          ]}
        />
      </dl>
      <Budget rows={predictionBudget(setup).rows} />
      <AssumedNote assumed={assumed} />
    </section>
  );
}

const percent = (part: number) => `${plainNumber(100 * part, 3)} %`;

const inputNames: Readonly<Record<BudgetRow["quantity"], string>> = {
  polytropicExponent: "exponent of the air",
  velocityCoefficient: "velocity coefficient",
  setPressure_Pa: "set pressure, Pa",
  bottleVolume_m3: "capacity, m³",
  water_kg: "water, kg",
  ambientPressure_Pa: "surroundings, Pa",
  contraction: "contraction",
  openingDiameter_m: "opening, m",
};

function Budget({ rows }: { readonly rows: readonly BudgetRow[] }) {
  return (
    <details class="plan-budget">
      <summary>Where the uncertainty comes from</summary>
      <DataTable
        caption="Uncertainty budget of the predicted impulse, k = 1, inputs independent"
        columns={["Input", right("Value"), right("u"), right("Gives, N·s")]}
        rows={rows.map(({ quantity, value, u, contribution_Ns }) => ({
          key: quantity,
          cells: [
            inputNames[quantity],
            shortNumber(value, 5),
            shortNumber(u, 2),
            plainNumber(contribution_Ns, 2),
          ],
        }))}
      />
    </details>
  );
}

const assumedNames: Readonly<Record<string, string>> = {
  ambientPressure_Pa: "surroundings at 101 325 Pa",
  waterTemperature_C: "water at 20 °C",
  airTemperature_C: "air at 20 °C",
  polytropicExponent: "exponent from the air temperature",
  contraction: "no contraction",
  velocityCoefficient: "no loss of speed",
  gravity_m_s2: "standard gravity",
};

/** Everything that nobody gave and that a number rests on. */
function AssumedNote({ assumed }: { readonly assumed: Assumed }) {
  const named = Object.entries(assumed).flatMap(([key, value]) => {
    if (key === "headOfWater") return value === false ? ["no head of water"] : [];
    return [assumedNames[key] ?? `${key} = ${String(value)}`];
  });
  return named.length === 0 ? null : <p class="lead">Assumed, because nobody said: {named.join(", ")}.</p>;
}
