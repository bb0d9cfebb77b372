import { plainNumber } from "../../core/units/value-text.ts";
import type { ForceEvent } from "../ports.ts";
import { DataTable, right, type TableRow } from "../widgets/data-table.tsx";

/** Where the uncertainty of the impulse comes from, largest first, with the correlations that count. */
export function BudgetSheet({ event }: { readonly event: ForceEvent }) {
  const { budget } = event;
  return (
    <section class="sheet" aria-labelledby="budget-title">
      <h2 id="budget-title">What the impulse is worth</h2>
      <DataTable
        caption="Uncertainty budget of the total impulse (GUM), k = 1"
        columns={["Source", right("u, N·s"), right("of the impulse"), right("degrees of freedom")]}
        rows={budgetRows(event)}
      />
      {budget.correlations.length > 0 && (
        <p class="lead">
          {budget.correlations.length} pairs of lines come from one fit and are correlated; the sum takes that
          into account.
        </p>
      )}
    </section>
  );
}

function budgetRows(event: ForceEvent): readonly TableRow[] {
  const { budget, withoutCalibration } = event;
  const row = (name: string, u_Ns: number, freedom: number) => ({
    key: name,
    cells: [name, plainNumber(Math.abs(u_Ns), 2), percent(u_Ns, event), freedomText(freedom)],
  });
  const expanded = `± ${plainNumber(budget.expanded, 2)}`;
  return [
    ...[...budget.contributions]
      .sort((a, b) => Math.abs(b.u) - Math.abs(a.u))
      .map(({ source, u, freedom }) => row(source, u, freedom)),
    { ...row("Together", budget.u, budget.freedom), total: true },
    {
      key: "interval",
      cells: [
        `95 % interval, k = ${plainNumber(budget.k95, 3)}`,
        expanded,
        percent(budget.expanded, event),
        "",
      ],
    },
    row("Without the sensors' calibration", withoutCalibration.u, withoutCalibration.freedom),
  ];
}

const percent = (u_Ns: number, event: ForceEvent) =>
  `${plainNumber((100 * Math.abs(u_Ns)) / Math.abs(event.report.impulse_Ns), 2)} %`;

/** So many degrees of freedom are as good as endless. */
const countless = 10_000;
export const freedomText = (freedom: number) => (freedom < countless ? String(Math.round(freedom)) : "∞");
