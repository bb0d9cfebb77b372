import type { ReducedEvent } from "../../core/force/event.ts";
import type { Reduction } from "../../core/force/reduce.ts";

/** A reduction for a person: each shot's numbers, what each correction added, what the uncertainty is made of. */
export function reductionTable(reduction: Reduction): string {
  const { trace, events, assumed } = reduction;
  const clipped = trace.channels.reduce((sum, channel) => sum + channel.clipping.count, 0);
  const record = [
    "record",
    line("samples", trace.samples, ""),
    line("rate", trace.rate_Hz, "Hz"),
    line("gaps", trace.gaps.length, ""),
    line("doubled rows", trace.duplicates, ""),
    line("samples at a limit", clipped, ""),
  ].join("\n");
  const blocks = events.map((event, i) =>
    eventBlocks(
      event,
      trace.channels.map((c) => c.name),
      i + 1,
    ),
  );
  const assumptions = Object.entries(assumed).map(
    ([key, value]) => `  ${key.padEnd(width)}${JSON.stringify(value)}`,
  );
  const closing =
    assumptions.length > 0 ? [["assumed, being left out of the setup", ...assumptions].join("\n")] : [];
  return `${[record, ...blocks.flat(), ...closing].join("\n\n")}\n`;
}

function eventBlocks(event: ReducedEvent, names: readonly string[], number: number): string[] {
  const { measured, budget } = event;
  const { polytropicExponent, jetEnergy_J } = measured.closure;
  return [
    [
      `event ${number}: total impulse ${digits(measured.impulse_Ns)} ± ${budget.u.toPrecision(2)} N s (k = 1), ± ${budget.expanded.toPrecision(2)} N s (95 %)`,
      line("specific impulse", event.specificImpulse_s, "s"),
      line("onset", event.onset_s, "s"),
      line("water's end", event.waterEnd_s, "s"),
      line("last measurable thrust", event.end_s, "s"),
      line("burn time, 5 % to 5 %", measured.burn_s * 1e3, "ms"),
      line("peak thrust, 60 Hz", measured.thrustPeak_N, "N"),
      line("peak thrust, largest sample", measured.thrustPeakAsRead_N, "N"),
      line("mean thrust over the burn", measured.thrustMean_N, "N"),
      ...names.map((name, c) => line(`share of ${name}`, 100 * measured.shares[c]!, "%")),
      ...event.discharges.map(({ name, source, value_s, u_s }) =>
        value_s === undefined
          ? `  ${`discharge time of ${name}`.padEnd(width)}${"none".padStart(10)}`
          : line(`discharge time of ${name}, ${source}, ± ${u_s!.toPrecision(2)}`, value_s, "s"),
      ),
      line("level left at the end", event.endLevel_N, "N"),
      line("off the weight that left", event.endLevelError_N, "N"),
      line("jet area by the weight that left", measured.outflow.jetArea_m2 * 1e6, "mm²"),
      line("energy of the jet", jetEnergy_J, "J"),
      ...(polytropicExponent === undefined ? [] : [line("polytropic exponent", polytropicExponent, "")]),
    ].join("\n"),
    [
      "what each correction added, onset to end",
      ...event.layers
        .filter((layer) => layer.needed)
        .map((layer) => line(layer.correction, layer.added_Ns, "N s")),
    ].join("\n"),
    [
      `what the impulse's uncertainty is made of, k = 1; ${freedom(budget.freedom)} degrees of freedom`,
      ...budget.contributions.map(({ source, u }) => line(source, Math.abs(u), "N s")),
    ].join("\n"),
    ...event.warnings.map(({ code, detail, remedy }) => `warning: ${detail}\n  ${remedy}  [${code}]`),
  ];
}

const width = 46;

const line = (label: string, value: number, unit: string) =>
  `  ${label.padEnd(width)}${digits(value).padStart(10)} ${unit}`.trimEnd();

const freedom = (value: number) => (Number.isFinite(value) ? String(value) : "very many");

/** Five digits, without powers of ten where a plain number does. */
function digits(value: number): string {
  const text = Number.isInteger(value) ? String(value) : value.toPrecision(5);
  return text.includes("e") ? String(Number(text)) : text;
}
