import type { Correction } from "../../core/force/corrections.ts";
import { plainNumber, valueWithU } from "../../core/units/value-text.ts";
import type { ForceEvent } from "../ports.ts";
import { Figure } from "../widgets/figure.tsx";
import { freedomText } from "./budget-sheet.tsx";
import { correctionNames } from "./corrections-sheet.tsx";
import { IssueList } from "./take-in-strip.tsx";

/** The numbers of one firing, each with what it is worth, and what to look out for. */
export function ResultSheet(props: {
  readonly event: ForceEvent;
  readonly whole: ForceEvent;
  readonly off: readonly Correction[];
}) {
  const { event, whole, off } = props;
  return (
    <section class="sheet" aria-labelledby="result-title">
      <h2 id="result-title" class="unseen">
        Result
      </h2>
      {off.length > 0 && (
        <p class="not-confirmed" role="status">
          Not the result: without {off.map((one) => correctionNames[one]).join(", ")}. All on, the impulse is{" "}
          {valueWithU(whole.report.impulse_Ns, whole.budget.u).value} N·s.
        </p>
      )}
      <dl class="figures result">
        <Worth event={event} />
        <Shape event={event} />
      </dl>
      {event.warnings.length > 0 && (
        <div class="warning">
          <h3>Look out</h3>
          <IssueList
            issues={event.warnings.map((one) => ({ ...one, where: warningNames[one.code] ?? one.code }))}
          />
        </div>
      )}
    </section>
  );
}

/** What a result is judged by: impulse and specific impulse with their uncertainty. */
function Worth({ event: { report, budget, expelled_kg } }: { readonly event: ForceEvent }) {
  const impulse = valueWithU(report.impulse_Ns, budget.u);
  const interval = valueWithU(report.impulse_Ns, budget.expanded).u;
  const relU = budget.u / report.impulse_Ns;
  const specific = valueWithU(report.specificImpulse_s, report.specificImpulse_s * relU);
  return (
    <>
      <Figure
        name="Total impulse"
        value={impulse.value}
        unit="N·s"
        notes={[
          `u = ${impulse.u} N·s, ${plainNumber(100 * relU, 2)} % (k = 1)`,
          `95 %: ± ${interval} N·s (k = ${plainNumber(budget.k95, 3)}, ν = ${freedomText(budget.freedom)})`,
        ]}
      />
      <Figure
        name="Specific impulse"
        value={specific.value}
        unit="s"
        notes={[
          `u = ${specific.u} s, from the impulse; per weight of ${plainNumber(1e3 * expelled_kg, 3)} g`,
        ]}
      />
    </>
  );
}

function Shape({ event }: { readonly event: ForceEvent }) {
  const { report, endLevel_N, endLevelError_N } = event;
  const shares = report.share.map((one) => `${plainNumber(100 * one, 3)} %`).join(" and ");
  return (
    <>
      <Figure
        name="Peak thrust"
        value={plainNumber(report.thrustPeak_N, 3)}
        unit="N"
        notes={[
          `after a 60 Hz low-pass, from 10 ms on; largest sample ${plainNumber(report.thrustPeakAsRead_N, 3)} N`,
        ]}
      />
      <Figure
        name="Burn time"
        value={plainNumber(1e3 * report.burn_s, 3)}
        unit="ms"
        notes={["from 5 % to 5 % of the peak"]}
      />
      <Figure
        name="Mean thrust"
        value={plainNumber(report.thrustMean_N, 3)}
        unit="N"
        notes={["over the burn time"]}
      />
      <Figure
        name="End level"
        value={plainNumber(endLevel_N, 3)}
        unit="N"
        notes={[
          `${signed(endLevelError_N)} N off the weight that left: the record's own check`,
          ...(report.share.length > 1 ? [`shares ${shares}`] : []),
        ]}
      />
    </>
  );
}

/** The codes as a reader would say them. */
export const warningNames: Readonly<Record<string, string>> = {
  "sampling-too-slow": "Sampling too slow",
  "quiet-too-short": "Too little quiet before",
  "tail-too-short": "Too little record after",
  "stand-moved": "The stand moved",
  "end-level-off": "End level off",
  "discharge-time-not-fitted": "Discharge time not told",
  "discharge-time-doubtful": "Discharge time in doubt",
  "channels-disagree": "Channels disagree",
  "drift-after-zero": "Zero drifts",
  "gap-in-event": "Samples missing",
  "clipped-rebuilt": "Channel at its limit",
  "slow-rise": "Slow rise",
  "jet-area-off": "Jet area off",
  "stopper-outside": "Stopper held outside",
};

export const signed = (value: number) => `${value > 0 ? "+" : ""}${plainNumber(value, 2)}`;
