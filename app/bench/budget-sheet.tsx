import { plainNumber } from "../../core/units/value-text.ts";
import type { ForceEvent } from "../ports.ts";

/** Where the uncertainty of the impulse comes from, largest first, with the correlations that count. */
export function BudgetSheet({ event }: { readonly event: ForceEvent }) {
  const { budget, withoutCalibration } = event;
  const lines = [...budget.contributions].sort((a, b) => Math.abs(b.u) - Math.abs(a.u));
  return (
    <section class="sheet" aria-labelledby="budget-title">
      <h2 id="budget-title">What the impulse is worth</h2>
      <div class="scroll-x">
        <table>
          <caption>Uncertainty budget of the total impulse (GUM), standard uncertainties, k = 1</caption>
          <thead>
            <tr>
              <th scope="col">Source</th>
              <th scope="col" class="right">
                u, N·s
              </th>
              <th scope="col" class="right">
                of the impulse
              </th>
              <th scope="col" class="right">
                degrees of freedom
              </th>
            </tr>
          </thead>
          <tbody>
            {lines.map(({ source, u, freedom }) => (
              <tr key={source}>
                <th scope="row">{source}</th>
                <td class="right">{plainNumber(Math.abs(u), 2)}</td>
                <td class="right">{percent(u, event)}</td>
                <td class="right">{freedomText(freedom)}</td>
              </tr>
            ))}
            <tr class="total">
              <th scope="row">Together</th>
              <td class="right">{plainNumber(budget.u, 2)}</td>
              <td class="right">{percent(budget.u, event)}</td>
              <td class="right">{freedomText(budget.freedom)}</td>
            </tr>
            <tr>
              <th scope="row">95 % interval, k = {plainNumber(budget.k95, 3)}</th>
              <td class="right">± {plainNumber(budget.expanded, 2)}</td>
              <td class="right">{percent(budget.expanded, event)}</td>
              <td />
            </tr>
            <tr>
              <th scope="row">Without the sensors' calibration</th>
              <td class="right">{plainNumber(withoutCalibration.u, 2)}</td>
              <td class="right">{percent(withoutCalibration.u, event)}</td>
              <td class="right">{freedomText(withoutCalibration.freedom)}</td>
            </tr>
          </tbody>
        </table>
      </div>
      {budget.correlations.length > 0 && (
        <p class="lead">
          {budget.correlations.length} pairs of lines come from one fit and are correlated; the sum takes that
          into account.
        </p>
      )}
    </section>
  );
}

const percent = (u_Ns: number, event: ForceEvent) =>
  `${plainNumber((100 * Math.abs(u_Ns)) / Math.abs(event.report.impulse_Ns), 2)} %`;
const freedomText = (freedom: number) => (freedom < 10_000 ? String(Math.round(freedom)) : "∞");
