import { describe, expect, test } from "vitest";
import { ordinaryCase } from "./synthetic/ordinary.ts";
import { reduceCase, seeds } from "./synthetic/reduced.ts";

/**
 * Monte Carlo over whole SYNTHETIC records (JCGM 101, GUM Supplement 1): ringing, release, neck, lag, noise,
 * hum, drift, print and discharge drawn anew, the sensors' calibration off by 1 % (k = 1) for all channels
 * together, the water's mass by 0.3 %, a stated discharge time by 0.5 %; every third is fitted instead.
 */
const records = 420;
const firstSeed = 1;
const calibrationRelU = 0.01;

type Drawn = {
  readonly seed: number;
  readonly covered: boolean;
  readonly coveredWithoutCalibration: boolean;
  readonly relU: number;
  readonly waterEndSeen: boolean;
};

function draw(seed: number): Drawn {
  const synthetic = ordinaryCase(seed, {
    misstated: true,
    gainRelU: calibrationRelU,
    stated: seed % 3 === 0 ? "fit" : "true",
  });
  const result = reduceCase(synthetic);
  const event = result.ok && result.value.events.length === 1 ? result.value.events[0]! : undefined;
  if (event === undefined) throw new Error(`seed ${seed}: not one event`);
  const { budget, withoutCalibration, measured } = event;
  const truth = synthetic.shot.impulse_Ns;
  const gain = synthetic.record.faults.channels[0]!.gain;
  return {
    seed,
    covered: Math.abs(measured.impulse_Ns - truth) <= budget.expanded,
    coveredWithoutCalibration: Math.abs(measured.impulse_Ns - gain * truth) <= withoutCalibration.expanded,
    relU: withoutCalibration.u / measured.impulse_Ns,
    waterEndSeen: measured.waterEndSeen,
  };
}

describe("the stated 95 % interval of the impulse", () => {
  test(`covers the truth in 92 to 98 of 100 of ${records} records, and is not wide for safety`, () => {
    const drawn = seeds(firstSeed, records).map(draw);
    const part = (of: (d: Drawn) => boolean) => drawn.filter(of).length / drawn.length;
    const widths = drawn.map((d) => d.relU).sort((a, b) => a - b);
    const at = (q: number) => widths[Math.floor(q * (widths.length - 1))]!;
    console.log(
      `${records} SYNTHETIC seeds from ${firstSeed}: covered ${(100 * part((d) => d.covered)).toFixed(1)} %, calibration known ${(100 * part((d) => d.coveredWithoutCalibration)).toFixed(1)} %; u without calibration ${(100 * at(0.5)).toFixed(3)} % (median), ${(100 * at(0.95)).toFixed(3)} % (95 of 100)`,
    );
    expect(part((d) => d.covered)).toBeGreaterThanOrEqual(0.92);
    expect(part((d) => d.covered)).toBeLessThanOrEqual(0.98);
    // Without the calibration what is left rests on judgement; it must not claim more than it holds.
    expect(part((d) => d.coveredWithoutCalibration)).toBeGreaterThanOrEqual(0.92);
    expect(part((d) => d.coveredWithoutCalibration)).toBeLessThan(0.995);
    for (const { seed, relU, waterEndSeen } of drawn) {
      if (waterEndSeen) expect(relU, `seed ${seed}`).toBeLessThan(0.004);
    }
    expect(part((d) => !d.waterEndSeen)).toBeLessThan(0.01);
  }, 300_000);
});
