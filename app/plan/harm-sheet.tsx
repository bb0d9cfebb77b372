import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { type HazardNumbers, hazardNumbers } from "../../core/plan/hazard-numbers.ts";
import { plainNumber } from "../../core/units/value-text.ts";
import { DataTable, right } from "../widgets/data-table.tsx";

/** What the charge can do, as estimates beside the formula each comes from. */
export function HarmSheet({ setup }: { readonly setup: ShotSetup }) {
  if (setup.ridingMass_kg === undefined) return null;
  const { stored, thrown } = hazardNumbers(setup, setup.ridingMass_kg);
  return (
    <section class="sheet" aria-labelledby="harm-title">
      <h2 id="harm-title">What it can do to you</h2>
      <p>
        Estimates for planning, not distances to stand at. The site's rules and its responsible person come
        first: keep the larger of their distance and any of these. Glasses before any pressure; nobody beside
        the stand or in line with the opening.
      </p>
      <Stored stored={stored} />
      <Thrown thrown={thrown} />
    </section>
  );
}

const three = (value: number) => plainNumber(value, 3);

function Stored({ stored }: { readonly stored: HazardNumbers["stored"] }) {
  const { edition } = stored;
  const governs = stored.leastDistanceGoverns ? "; the 30 m minimum decides" : "";
  const rows = [
    ["Stored energy", `${three(stored.energy_J)} J`, `${edition}: 2.5 P V [1 − (P_a/P)^0.286]`],
    ["… bottle without water", `${three(stored.wholeBottle_J)} J`, "the same, whole bottle as gas: a bound"],
    [
      "… isothermal",
      `${three(stored.isothermal_J)} J`,
      "p₀V₀ [ln(p₀/p_a) − 1 + p_a/p₀]: the most any process gives",
    ],
    ["As TNT", `${three(1e3 * stored.tnt_kg)} g`, "4 266 920 J/kg, as in the text"],
    [
      "Blast distance",
      `${three(stored.distance_m)} m`,
      `${edition}: max(30 m, 20 TNT^⅓)${governs}. Blast only, no fragments, no jet`,
    ],
  ];
  return (
    <DataTable
      caption="Air stored above the water"
      columns={["Quantity", right("Value"), "By"]}
      rows={rows.map((cells) => ({ key: cells[0]!, cells }))}
    />
  );
}

function Thrown({ thrown }: { readonly thrown: HazardNumbers["thrown"] }) {
  const { expected, impulseBound } = thrown;
  const row = (name: string, { speed_m_s, height_m, range_m }: typeof expected, by: string) => ({
    key: name,
    cells: [name, `${three(speed_m_s)} m/s`, `${three(height_m)} m`, `${three(range_m)} m`, by],
  });
  return (
    <DataTable
      caption={`Thrown, every restraint open: ${three(thrown.ridingMass_kg)} kg ride`}
      columns={["Estimate", right("Speed"), right("Height"), right("Range"), "By"]}
      rows={[
        row("To expect", expected, "dv/dt = T/(M + m) − g, no drag; at a slant twice the height"),
        row("For exclusion", impulseBound, "all the impulse at once: v = I/M, v²/2g, v²/g"),
      ]}
    />
  );
}
