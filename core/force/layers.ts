import type { Correction, Layer, Switches } from "./corrections.ts";
import type { FoundEvent } from "./find-events.ts";
import { areaBetween } from "./impulse.ts";
import type { Measured } from "./measure.ts";
import type { Trace } from "./trace.ts";

/**
 * Every correction with what it adds, sample by sample and in all, whether it is switched on or not. The
 * sums are those of the event as it was reduced: with one switched off the others stand as they are.
 */
export function layersOf(
  trace: Trace,
  event: FoundEvent,
  measured: Measured,
  switches: Switches,
): readonly Layer[] {
  const { window, separated } = event;
  const { onset, end } = measured.marks;
  const layer = (correction: Correction, needed: boolean, added_N: Float64Array): Layer => ({
    correction,
    on: switches[correction],
    needed,
    added_N,
    added_Ns: areaBetween(added_N, onset, end, window.rate_Hz),
  });
  const empty = () => new Float64Array(window.count);
  const over = (value: (channel: number, sample: number) => number) => {
    const added = empty();
    for (let c = 0; c < trace.channels.length; c++) {
      for (let i = 0; i < added.length; i++) added[i] = added[i]! + value(c, i);
    }
    return added;
  };
  const zero = over((c, i) => {
    const { zero_N, drift_N_s, memory_N } = separated.fit.channels[c]!;
    const hum_N = window.channels[c]!.hum_N?.[i] ?? 0;
    return -(zero_N + (drift_N_s * (i - window.from + 0.5)) / window.rate_Hz + memory_N + hum_N);
  });
  const discharge = over((c, i) => separated.channels[c]!.discharge_N[i]!);
  const rebuilt = over((c, i) => separated.channels[c]!.rebuilt_N?.[i] ?? 0);
  const gaps = over((c, i) => drawn(trace, event, c, i));
  const stopper = empty();
  for (let i = Math.max(0, Math.ceil(onset)); i < stopper.length; i++) stopper[i] = measured.stopper_N;
  const missing = window.channels.some((c) => c.missing > 0);
  const limited = window.channels.some((c) => c.clipped !== undefined);
  return [
    layer("gaps", missing, gaps),
    layer("clipping", limited, rebuilt),
    layer("zero", true, zero),
    layer(
      "discharge",
      separated.fit.channels.some((c) => c.inverse_1_s > 0),
      discharge,
    ),
    layer("stopper", event.shot.stopperHeld === "outside", stopper),
    layer(
      "weight",
      true,
      measured.weight_N.map((x) => -x),
    ),
  ];
}

/** What was drawn into a gap counts whole: the record has nothing there. */
function drawn(trace: Trace, { window }: FoundEvent, channel: number, sample: number): number {
  const { first, each, channels } = window;
  if (channels[channel]!.missing === 0) return 0;
  const { values } = trace.channels[channel]!;
  for (let i = first + sample * each; i < first + (sample + 1) * each; i++)
    if (!Number.isNaN(values[i]!)) return 0;
  return channels[channel]!.force_N[sample]!;
}
