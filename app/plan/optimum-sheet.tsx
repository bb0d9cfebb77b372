import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { type FillOptimum, fillOptimum, type Objective, objectives } from "../../core/plan/fill-optimum.ts";
import { plainNumber } from "../../core/units/value-text.ts";
import { ScrollBox } from "../widgets/scroll-box.tsx";
import { inUnit, type UnitChoice } from "../widgets/unit-choice.ts";

const names: Readonly<Record<Objective, { readonly name: string; readonly unit: string }>> = {
  impulse_Ns: { name: "Most total impulse", unit: "N·s" },
  specificImpulse_s: { name: "Most specific impulse", unit: "s" },
  jetEnergy_J: { name: "Most jet energy", unit: "J" },
};

const range = { least: 0.02, greatest: 0.98 } as const;

/** The best fill for each objective, side by side and never added up. */
export function OptimumSheet({ setup, units }: { readonly setup: ShotSetup; readonly units: UnitChoice }) {
  const full_kg = setup.bottleVolume_m3 * setup.waterDensity_kg_m3;
  const found = objectives.map((objective) =>
    fillOptimum(setup, objective, {
      least_kg: range.least * full_kg,
      greatest_kg: range.greatest * full_kg,
    }),
  );
  return (
    <section class="sheet" aria-labelledby="optimum-title">
      <h2 id="optimum-title">Best fill at {inUnit(setup.setPressure_Pa, "pressure", units)}</h2>
      <p class="lead">
        Each objective has its own. A fill that is best for one is not a compromise for another.
      </p>
      <ScrollBox label="Best fills">
        <table>
          <thead>
            <tr>
              <th scope="col">For</th>
              <th scope="col">Water</th>
              <th scope="col">of the bottle</th>
              <th scope="col">gives</th>
              <th scope="col">a fifth less costs</th>
              <th scope="col">a fifth more costs</th>
            </tr>
          </thead>
          <tbody>
            {found.map(
              (one) =>
                one.ok && <Row key={one.value.objective} {...{ setup, units, full_kg }} best={one.value} />,
            )}
          </tbody>
        </table>
      </ScrollBox>
    </section>
  );
}

function Row(props: {
  readonly best: FillOptimum;
  readonly setup: ShotSetup;
  readonly units: UnitChoice;
  readonly full_kg: number;
}) {
  const { best, setup, units, full_kg } = props;
  const cost = (off: number) => {
    const found = best.cost.find(({ relativeFill }) => relativeFill === off);
    return found === undefined ? "–" : `${plainNumber(100 * found.loss, 2)} %`;
  };
  const inside = best.at === "inside";
  return (
    <tr>
      <th scope="row">{names[best.objective].name}</th>
      <td>
        {inside
          ? inUnit(Number(best.water_kg.toPrecision(3)), "water", units, setup.waterDensity_kg_m3)
          : best.at === "least"
            ? "as little as there may be"
            : "as much as there may be"}
      </td>
      <td>{inside ? `${Math.round((100 * best.water_kg) / full_kg)} %` : ""}</td>
      <td>
        {inside
          ? `${plainNumber(best.value, 3)} ${names[best.objective].unit}`
          : `${plainNumber(best.value, 3)} ${names[best.objective].unit} at ${Math.round((100 * best.water_kg) / full_kg)} %`}
      </td>
      <td>{inside ? cost(-0.2) : ""}</td>
      <td>{inside ? cost(0.2) : ""}</td>
    </tr>
  );
}
