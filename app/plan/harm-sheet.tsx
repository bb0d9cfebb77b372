import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { hazardNumbers } from "../../core/plan/hazard-numbers.ts";
import { plainNumber } from "../../core/units/value-text.ts";

/** What the charge can do, as estimates beside the formula each comes from. */
export function HarmSheet({ setup }: { readonly setup: ShotSetup }) {
  if (setup.ridingMass_kg === undefined) return null;
  const { stored, thrown } = hazardNumbers(setup, setup.ridingMass_kg);
  const three = (value: number) => plainNumber(value, 3);
  return (
    <section class="sheet" aria-labelledby="harm-title">
      <h2 id="harm-title">What it can do to you</h2>
      <p>
        Estimates for planning, not distances to stand at. The site's rules and its responsible person come
        first: keep the larger of their distance and any of these. Glasses before any pressure; nobody beside
        the stand or in line with the opening.
      </p>
      <div class="scroll-x">
        <table>
          <caption>Air stored above the water</caption>
          <thead>
            <tr>
              <th scope="col">Quantity</th>
              <th scope="col">Value</th>
              <th scope="col">By</th>
            </tr>
          </thead>
          <tbody>
            <Row
              name="Stored energy"
              value={`${three(stored.energy_J)} J`}
              by={`${stored.edition}: 2.5 P V [1 − (P_a/P)^0.286]`}
            />
            <Row
              name="… bottle without water"
              value={`${three(stored.wholeBottle_J)} J`}
              by="the same, whole bottle as gas: a bound"
            />
            <Row
              name="… isothermal"
              value={`${three(stored.isothermal_J)} J`}
              by="p₀V₀ [ln(p₀/p_a) − 1 + p_a/p₀]: the most any process gives"
            />
            <Row
              name="As TNT"
              value={`${three(1e3 * stored.tnt_kg)} g`}
              by="4 266 920 J/kg, as in the text"
            />
            <Row
              name="Blast distance"
              value={`${three(stored.distance_m)} m`}
              by={`${stored.edition}: max(30 m, 20 TNT^⅓)${stored.leastDistanceGoverns ? "; the 30 m minimum decides" : ""}. Blast only, no fragments, no jet`}
            />
          </tbody>
        </table>
      </div>
      <div class="scroll-x">
        <table>
          <caption>Thrown, every restraint open: {plainNumber(thrown.ridingMass_kg, 3)} kg ride</caption>
          <thead>
            <tr>
              <th scope="col"> </th>
              <th scope="col">Speed</th>
              <th scope="col">Height</th>
              <th scope="col">Range</th>
              <th scope="col">By</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">To expect</th>
              <td>{three(thrown.expected.speed_m_s)} m/s</td>
              <td>{three(thrown.expected.height_m)} m</td>
              <td>{three(thrown.expected.range_m)} m</td>
              <td>dv/dt = T/(M + m) − g, no drag; at a slant twice the height</td>
            </tr>
            <tr>
              <th scope="row">For exclusion</th>
              <td>{three(thrown.impulseBound.speed_m_s)} m/s</td>
              <td>{three(thrown.impulseBound.height_m)} m</td>
              <td>{three(thrown.impulseBound.range_m)} m</td>
              <td>all the impulse at once: v = I/M, v²/2g, v²/g</td>
            </tr>
          </tbody>
        </table>
      </div>
    </section>
  );
}

function Row({ name, value, by }: { readonly name: string; readonly value: string; readonly by: string }) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td class="keep">{value}</td>
      <td>{by}</td>
    </tr>
  );
}
