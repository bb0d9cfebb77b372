import { describe, expect, test } from "vitest";
import { reductionReport } from "../../../core/force/report.ts";
import { mutated } from "./synthetic/mutations.ts";
import { ordinaryCase } from "./synthetic/ordinary.ts";
import { syntheticRecord } from "./synthetic/record.ts";
import { reduceBytes } from "./synthetic/reduced.ts";
import { Seeded } from "./synthetic/seeded.ts";
import { recordBytes } from "./synthetic/text.ts";

/** Short SYNTHETIC records to be spoilt: ten rounds of a thousand mutations, a seed each. */
const rounds = 10;
const perRound = 1000;
const bases = [11, 22, 33].map((seed) => {
  const synthetic = ordinaryCase(seed, { discharge_s: 8, rate_Hz: 1000, conditions: { opening_m: 0.0217 } });
  const shots = [{ onset_s: 0.45, shot: synthetic.shot }];
  const record = syntheticRecord({ ...synthetic.record.faults, length_s: 1.2, shots }, new Seeded(seed));
  return { setup: synthetic.setup, truth_Ns: synthetic.shot.impulse_Ns, bytes: recordBytes(record) };
});
/** A number that is further off than this must have been accompanied by a word about it. */
const silentPart = 0.01;

function check(seed: number): "refused" | "nothing" | "number" {
  const base = bases[seed % bases.length]!;
  const { name, bytes } = mutated(base.bytes, new Seeded(seed * 7919 + 13));
  const what = `seed ${seed}, ${name}`;
  const result = reduceBytes(bytes, base.setup);
  if (!result.ok) {
    expect(result.issues.length, what).toBeGreaterThan(0);
    for (const { code, where, detail, remedy } of result.issues) {
      for (const text of [code, where, detail, remedy]) expect(text.length, what).toBeGreaterThan(0);
    }
    return "refused";
  }
  const report = reductionReport(result.value);
  JSON.stringify(report, (key, value) => {
    if (typeof value === "number") expect(Number.isFinite(value), `${what}: ${key}`).toBe(true);
    return value;
  });
  for (const event of report.events) {
    const { gaps, duplicates, clipped } = report.trace;
    const said =
      event.warnings.length + report.issues.length + gaps + duplicates + clipped.reduce((a, b) => a + b, 0);
    const off = Math.abs(event.impulse_Ns / base.truth_Ns - 1);
    if (said === 0) expect(off, what).toBeLessThan(silentPart);
  }
  if (report.events.length === 0) expect(report.issues.length, what).toBeGreaterThan(0);
  return report.events.length > 0 ? "number" : "nothing";
}

describe("a spoilt force file", () => {
  test.each(Array.from({ length: rounds }, (_, i) => i))(
    `neither crashes, nor hangs, nor gives a silent number: ${perRound} mutations, round %d`,
    (round) => {
      const counts = { refused: 0, nothing: 0, number: 0 };
      for (let i = 0; i < perRound; i++) counts[check(round * perRound + i)]++;
      // All three happen, or the mutations would be too gentle or too rough to show anything.
      expect(Math.min(counts.refused, counts.number)).toBeGreaterThan(perRound / 20);
    },
    120_000,
  );
});
