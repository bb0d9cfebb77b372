import { parseSetup } from "../../../../core/exchange/setup.ts";
import { readForceFile } from "../../../../core/force/force-file.ts";
import { type ReduceOptions, type Reduction, reduce } from "../../../../core/force/reduce.ts";
import type { Result } from "../../../../core/result.ts";
import type { Case } from "./ordinary.ts";
import { recordBytes, type TextForm } from "./text.ts";

/** Bytes and S.json in, the reduction or every issue out: the way that the terminal goes. */
export function reduceBytes(
  bytes: Uint8Array | Iterable<Uint8Array>,
  setupJson: unknown,
  options: ReduceOptions = {},
): Result<Reduction> {
  const parsed = parseSetup(setupJson, "reduce");
  if (!parsed.ok) return parsed;
  const { setup, assumed } = parsed.value;
  const names = (setup.channels ?? []).flatMap(({ column }) => (typeof column === "string" ? [column] : []));
  const file = readForceFile(bytes, { names });
  return file.ok ? reduce(file.value, setup, { assumed, ...options }) : file;
}

export function reduceCase(
  synthetic: Case,
  form: Partial<TextForm> = {},
  options: ReduceOptions = {},
): Result<Reduction> {
  return reduceBytes(recordBytes(synthetic.record, form), synthetic.setup, options);
}

/** How far a reduction is off the truth of its one shot. */
export type Errors = {
  readonly impulse: number;
  readonly onset_s: number;
  readonly waterEnd_s: number;
  readonly share: number;
  readonly warnings: readonly string[];
};

export function errorsOf(result: Result<Reduction>, synthetic: Case): Errors {
  if (!result.ok) throw new Error(`seed ${synthetic.seed}: ${result.issues.map((i) => i.code).join(", ")}`);
  const { events, issues } = result.value;
  const [event] = events;
  if (event === undefined || events.length > 1) {
    throw new Error(
      `seed ${synthetic.seed}: ${events.length} events, ${issues.map((i) => i.code).join(", ")}`,
    );
  }
  return {
    impulse: event.measured.impulse_Ns / synthetic.shot.impulse_Ns - 1,
    onset_s: event.onset_s - synthetic.onset_s,
    waterEnd_s: event.waterEnd_s - synthetic.onset_s - synthetic.shot.waterEnd_s,
    share: event.measured.shares[0]! - synthetic.record.faults.channels[0]!.share,
    warnings: event.warnings.map((w) => w.code),
  };
}

/** Seeds in a row, so that a failure names the one to look at. */
export const seeds = (from: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, i) => from + i);
