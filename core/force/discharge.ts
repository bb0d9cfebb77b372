import { type BaselineFit, baselineKeys, costOver, fitBaseline, type InverseKnown } from "./baseline.ts";
import type { Blocks } from "./blocks.ts";
import type { FoundEvent } from "./find-events.ts";
import { baselinePoints } from "./span.ts";
import type { Trace } from "./trace.ts";

/** The discharge time of one channel, as used and as the record tells it. */
export type Discharge = {
  readonly name: string;
  readonly source: "given" | "fitted" | "none";
  /** Absent where the channel holds, or where the tail does not tell. */
  readonly value_s?: number;
  readonly u_s?: number;
  /** To be fitted, and the record cannot tell it to `fittedRelU`. */
  readonly refused: boolean;
  /** Given, and the tail follows another. */
  readonly doubtful: boolean;
};

/** A fitted time less certain than this is not reported. */
const fittedRelU = 0.1;
/** Twice what a discharge may take off the impulse and still be called none. */
const negligible = 0.006;
/** Misfit that a stated time may cost before it is doubted, and how far off the better one then is. */
const doubtMisfit = 25;
const doubtPart = 0.05;

export function dischargesOf(trace: Trace, blocks: Blocks, event: FoundEvent): readonly Discharge[] {
  const { fit } = event.separated;
  return trace.channels.map(({ name, plan }, c): Discharge => {
    const stated = plan.setup.dischargeTime_s;
    const inverse = fit.channels[c]!.inverse_1_s;
    const relU = inverse > 0 ? inverseU(fit, c) / inverse : Number.POSITIVE_INFINITY;
    if (stated === "none") return { name, source: "none", refused: false, doubtful: false };
    if (stated === "fit") {
      // Too slow to matter in this burn: the channel holds, as far as this record can tell.
      const burn_s = (event.window.to - event.window.from) / event.window.rate_Hz;
      const holds = (inverse + 2 * inverseU(fit, c)) * burn_s < negligible;
      if (holds && !(relU <= fittedRelU)) return { name, source: "none", refused: false, doubtful: false };
      if (!(relU <= fittedRelU)) return { name, source: "none", refused: true, doubtful: false };
      return {
        name,
        source: "fitted",
        value_s: 1 / inverse,
        u_s: relU / inverse,
        refused: false,
        doubtful: false,
      };
    }
    const u_s = plan.setup.dischargeTimeRelU * stated;
    return {
      name,
      source: "given",
      value_s: stated,
      u_s,
      refused: false,
      doubtful: isDoubtful(trace, blocks, event, c, stated),
    };
  });
}

function inverseU(fit: BaselineFit, channel: number): number {
  const p = baselineKeys.length;
  const at = channel * p + baselineKeys.indexOf("inverse_1_s");
  return Math.sqrt(Math.max(0, fit.covariance[at * p * fit.channels.length + at]!));
}

/** Fits the channel alone with its time left open: does the tail ask for another one, and by much? */
function isDoubtful(trace: Trace, blocks: Blocks, event: FoundEvent, c: number, stated_s: number): boolean {
  const area_Ns = event.separated.channels[c]!.area_Ns;
  const points = [baselinePoints(blocks, c, event.span, area_Ns)];
  const relU = trace.channels[c]!.plan.setup.dischargeTimeRelU;
  const fitted = (inverse: InverseKnown) =>
    fitBaseline(points, { inverses: [inverse], impulses_Ns: [area_Ns] });
  const given = fitted({ value: 1 / stated_s, u: relU / stated_s });
  const open = fitted("free");
  const found = open.channels[0]!.inverse_1_s;
  return (
    costOver(given, open) > doubtMisfit && Math.abs(found * stated_s - 1) > Math.max(doubtPart, 4 * relU)
  );
}
