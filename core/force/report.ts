import type { ReducedEvent } from "./event.ts";
import type { Reduction } from "./reduce.ts";

/** The answer of `fourfast reduce --json`, key by key as docs/formats.md lays it down. */
export function reductionReport(reduction: Reduction) {
  const { trace, assumed, issues } = reduction;
  return {
    events: reduction.events.map(eventReport),
    trace: {
      rate_Hz: trace.rate_Hz,
      samples: trace.samples,
      gaps: trace.gaps.length,
      duplicates: trace.duplicates,
      clipped: trace.channels.map((channel) => channel.clipping.count),
    },
    assumed,
    issues,
  };
}

export function eventReport(event: ReducedEvent) {
  const { measured, layers } = event;
  const added = (correction: string) =>
    layers.find((layer) => layer.correction === correction)?.added_Ns ?? 0;
  const { polytropicExponent, jetEnergy_J } = measured.closure;
  return {
    onset_s: event.onset_s,
    waterEnd_s: event.waterEnd_s,
    end_s: event.end_s,
    burn_s: measured.burn_s,
    impulse_Ns: measured.impulse_Ns,
    u_impulse_Ns: event.budget.u,
    thrustPeak_N: measured.thrustPeak_N,
    thrustPeakAsRead_N: measured.thrustPeakAsRead_N,
    thrustMean_N: measured.thrustMean_N,
    expelled_kg: event.expelled_kg,
    specificImpulse_s: event.specificImpulse_s,
    share: measured.shares,
    dischargeTime_s: event.discharges.map(({ value_s, u_s, source }) => ({
      value: value_s ?? null,
      u: u_s ?? null,
      source,
    })),
    weightCorrection_Ns: added("weight"),
    droopCorrection_Ns: added("discharge"),
    endLevel_N: event.endLevel_N,
    endLevelError_N: event.endLevelError_N,
    jetArea_m2: measured.outflow.jetArea_m2,
    ...(polytropicExponent !== undefined && { polytropicExponent }),
    jetEnergy_J,
    warnings: event.warnings.map((warning) => warning.code),
  };
}
