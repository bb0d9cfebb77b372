import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { reductionReport } from "../../../core/force/report.ts";
import { reduceBytes } from "./synthetic/reduced.ts";

/** Records of stand Heron that another generator than ours made, with the truth that it kept. */
type Truth = {
  readonly events: readonly {
    readonly t_on: number;
    readonly t_water_end_abs: number;
    readonly t_end_abs: number;
    readonly I_total: number;
  }[];
  readonly share: readonly number[];
  readonly dischargeTime_s: readonly (number | null)[];
  readonly rate_Hz: number;
};
const folder = new URL("../../records/", import.meta.url);
const records: Readonly<Record<string, { readonly setup: unknown; readonly truth: Truth }>> = JSON.parse(
  readFileSync(new URL("records.json", folder), "utf8"),
);
const reduced = (name: string) => {
  const result = reduceBytes(new Uint8Array(readFileSync(new URL(name, folder))), records[name]!.setup);
  if (!result.ok) throw new Error(result.issues.map((i) => i.code).join());
  return result.value;
};

describe("the Heron records", () => {
  const fired = Object.keys(records).filter((name) => records[name]!.truth.events.length > 0);

  test.each(fired)("%s gives the truth within what the issue asks", (name) => {
    const { truth } = records[name]!;
    const [event, ...others] = reduced(name).events;
    expect(others).toEqual([]);
    const [expected] = truth.events;
    const { measured } = event!;
    const error = measured.impulse_Ns / expected!.I_total - 1;
    console.log(
      `${name}: impulse ${measured.impulse_Ns.toFixed(4)} N s, ${(100 * error).toFixed(3)} % off, ± ${event!.budget.expanded.toFixed(4)} (95 %), without calibration ± ${event!.withoutCalibration.expanded.toFixed(4)}`,
    );
    const fitted = event!.discharges.some((d) => d.source === "fitted");
    expect(Math.abs(error)).toBeLessThan(fitted ? 0.01 : 0.003);
    expect(Math.abs(error)).toBeLessThan(0.001);
    expect(Math.abs(measured.impulse_Ns - expected!.I_total)).toBeLessThan(
      event!.withoutCalibration.expanded,
    );
    expect(Math.abs(event!.onset_s - expected!.t_on)).toBeLessThan(0.002);
    expect(Math.abs(event!.waterEnd_s - expected!.t_water_end_abs)).toBeLessThan(0.006);
    expect(Math.abs(event!.end_s - expected!.t_end_abs)).toBeLessThan(0.01);
    for (const [c, share] of truth.share.entries())
      expect(Math.abs(measured.shares[c]! - share)).toBeLessThan(0.002);
    for (const [c, time] of truth.dischargeTime_s.entries()) {
      expect(Math.abs(event!.discharges[c]!.value_s! / time! - 1)).toBeLessThan(0.1);
    }
    expect(event!.warnings).toEqual([]);
  });

  test("where nothing happened, gives no event and says so", () => {
    const { events, issues } = reduced("heron-04-nothing-happened.csv");
    expect([events, issues.map((i) => i.code)]).toEqual([[], ["no-event-found"]]);
  });

  test("is reported with every key of the contract and no other", () => {
    const report = reductionReport(reduced("heron-01.csv"));
    expect(Object.keys(report)).toEqual(["events", "trace", "assumed", "issues"]);
    expect(report.trace).toEqual({
      rate_Hz: expect.closeTo(4000, 6),
      samples: 14000,
      gaps: 0,
      duplicates: 0,
      clipped: [0, 0],
    });
    expect(Object.keys(report.events[0]!)).toEqual([
      "onset_s",
      "waterEnd_s",
      "end_s",
      "burn_s",
      "impulse_Ns",
      "u_impulse_Ns",
      "thrustPeak_N",
      "thrustPeakAsRead_N",
      "thrustMean_N",
      "expelled_kg",
      "specificImpulse_s",
      "share",
      "dischargeTime_s",
      "weightCorrection_Ns",
      "droopCorrection_Ns",
      "endLevel_N",
      "endLevelError_N",
      "jetArea_m2",
      "polytropicExponent",
      "jetEnergy_J",
      "warnings",
    ]);
  });

  test("gives the same bytes each time", () => {
    const bytes = () => JSON.stringify(reductionReport(reduced("heron-02-no-time-column.txt")));
    expect(bytes()).toBe(bytes());
  });
});
