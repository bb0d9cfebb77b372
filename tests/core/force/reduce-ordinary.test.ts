import { describe, expect, test } from "vitest";
import { ordinaryCase, type Wishes } from "./synthetic/ordinary.ts";
import { type Errors, errorsOf, reduceCase, seeds } from "./synthetic/reduced.ts";
import type { TextForm } from "./synthetic/text.ts";

/** SYNTHETIC records: everything about stand, bottle and recorder drawn from the seed. */
const firstSeed = 1001;

function table(title: string, errors: readonly Errors[]) {
  const rms = (of: (e: Errors) => number) =>
    Math.sqrt(errors.reduce((sum, e) => sum + of(e) ** 2, 0) / errors.length);
  const most = (of: (e: Errors) => number) => Math.max(...errors.map((e) => Math.abs(of(e))));
  const line = (name: string, of: (e: Errors) => number, scale: number, unit: string) =>
    `  ${name.padEnd(12)} rms ${(rms(of) * scale).toFixed(3)} ${unit}, most ${(most(of) * scale).toFixed(3)} ${unit}`;
  console.log(
    [
      `${title}: ${errors.length} SYNTHETIC seeds from ${firstSeed}`,
      line("impulse", (e) => e.impulse, 100, "%"),
      line("onset", (e) => e.onset_s, 1000, "ms"),
      line("water's end", (e) => e.waterEnd_s, 1000, "ms"),
      line("share", (e) => e.share, 1, ""),
    ].join("\n"),
  );
  return { rms, most };
}

const run = (count: number, wishes: Wishes, form: Partial<TextForm> = {}) =>
  seeds(firstSeed, count).map((seed) => {
    const synthetic = ordinaryCase(seed, wishes);
    return errorsOf(reduceCase(synthetic, form), synthetic);
  });

describe("an ordinary record", () => {
  test("gives impulse, onset, water's end and share as closely as the issue asks, told the discharge time", () => {
    const { rms, most } = table("told", run(120, {}));
    expect(rms((e) => e.impulse)).toBeLessThan(0.001);
    expect(most((e) => e.impulse)).toBeLessThan(0.003);
    expect(most((e) => e.onset_s)).toBeLessThan(0.002);
    expect(most((e) => e.waterEnd_s)).toBeLessThan(0.006);
    expect(most((e) => e.share)).toBeLessThan(0.002);
  }, 120_000);

  test("gives the impulse within one per cent where the discharge time is fitted", () => {
    const { rms, most } = table("fitted", run(60, { stated: "fit" }));
    expect(rms((e) => e.impulse)).toBeLessThan(0.002);
    expect(most((e) => e.impulse)).toBeLessThan(0.01);
  }, 60_000);

  test("gives the impulse within one per cent even where the channel discharges in 0.35 s", () => {
    const { most } = table("fitted, 0.35 s", run(30, { stated: "fit", discharge_s: 0.35 }));
    expect(most((e) => e.impulse)).toBeLessThan(0.01);
  }, 60_000);

  test.each([
    ["sign flipped", { sign: -1 }],
    ["zero drifting by 0.2 N/s", { drift_N_s: 0.1 }],
    ["channels that hold", { discharge_s: Number.POSITIVE_INFINITY }],
    ["unequal discharge times", { discharge_s: [4, 20] }],
    ["one channel", { channels: 1 }],
    ["three channels", { channels: 3 }],
  ] satisfies [string, Wishes][])(
    "is as close with %s",
    (title, wishes) => {
      const { most } = table(title, run(16, wishes));
      expect(most((e) => e.impulse)).toBeLessThan(0.003);
      expect(most((e) => e.onset_s)).toBeLessThan(0.002);
      expect(most((e) => e.waterEnd_s)).toBeLessThan(0.006);
      expect(most((e) => e.share)).toBeLessThan(0.002);
    },
    60_000,
  );
});
