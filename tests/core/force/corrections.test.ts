import { describe, expect, test } from "vitest";
import { type Correction, corrections } from "../../../core/force/corrections.ts";
import { areaBetween } from "../../../core/force/impulse.ts";
import type { ReduceOptions } from "../../../core/force/reduce.ts";
import { ordinaryCase } from "./synthetic/ordinary.ts";
import { reduceCase } from "./synthetic/reduced.ts";

const synthetic = ordinaryCase(5001, {
  discharge_s: 3,
  rockPart: 0,
  hum_N: 0.2,
  conditions: { opening_m: 0.0217 },
});
const only = (options: ReduceOptions = {}, of = synthetic) => {
  const result = reduceCase(of, {}, options);
  if (!result.ok) throw new Error(result.issues.map((i) => i.code).join());
  return result.value.events[0]!;
};
const whole = only();
const layer = (event: typeof whole, correction: Correction) =>
  event.layers.find((l) => l.correction === correction)!;

describe("each correction", () => {
  test("is listed once with its size, needed or not", () => {
    expect(whole.layers.map((l) => l.correction)).toEqual([...corrections]);
    expect(whole.layers.filter((l) => l.needed).map((l) => l.correction)).toEqual([
      "zero",
      "discharge",
      "weight",
    ]);
    expect(layer(whole, "discharge").added_Ns).toBeGreaterThan(0.1);
    expect(layer(whole, "weight").added_Ns).toBeLessThan(-0.1);
  });

  test("adds sample by sample what lies between the reading and the thrust", () => {
    const { read_N, thrust_N } = whole.series;
    for (let i = 0; i < read_N.length; i += 7) {
      const added = whole.layers.reduce((sum, l) => sum + l.added_N[i]!, 0);
      expect(read_N[i]! + added).toBeCloseTo(thrust_N[i]!, 9);
    }
  });

  test("states as its size the area of what it adds, onset to end", () => {
    const { onset, end } = whole.measured.marks;
    for (const { added_N, added_Ns } of whole.layers) {
      expect(areaBetween(added_N, onset, end, whole.series.rate_Hz)).toBeCloseTo(added_Ns, 12);
    }
  });

  test.each(["discharge", "weight"] as const)(
    "can be switched off: without %s the impulse is off by its size",
    (correction) => {
      const without = only({ off: [correction] });
      const size = layer(whole, correction).added_Ns;
      expect(layer(without, correction).on).toBe(false);
      expect(Math.abs(whole.measured.impulse_Ns - without.measured.impulse_Ns - size)).toBeLessThan(
        0.3 * Math.abs(size),
      );
    },
  );

  test("for a stopper outside is the whole of the seal's push over the burn", () => {
    const outside = ordinaryCase(5002, { stopperOutside: true, conditions: { opening_m: 0.0217 } });
    const event = only({}, outside);
    const expected = outside.shot.seal_N * (event.end_s - event.onset_s);
    expect(layer(event, "stopper").added_Ns / expected).toBeCloseTo(1, 1);
    expect(only({ off: ["stopper"] }, outside).measured.impulse_Ns).toBeLessThan(
      0.4 * event.measured.impulse_Ns,
    );
  });

  test("for a clipped channel is switched off like the others", () => {
    const peak = synthetic.record.channels_N[0]!.reduce((most, x) => Math.max(most, x), 0);
    const wishes = { discharge_s: 3, rockPart: 0, hum_N: 0.2, conditions: { opening_m: 0.0217 } } as const;
    const clipped = ordinaryCase(5001, { ...wishes, clip_N: [0.5 * peak, Number.POSITIVE_INFINITY] });
    const rebuilt = only({}, clipped);
    const left = only({ off: ["clipping"] }, clipped);
    expect(rebuilt.measured.impulse_Ns / whole.measured.impulse_Ns - 1).toBeCloseTo(0, 2);
    expect(left.measured.impulse_Ns).toBeLessThan(
      rebuilt.measured.impulse_Ns - 0.5 * layer(rebuilt, "clipping").added_Ns,
    );
  });
});

describe("marks", () => {
  test("set by hand stand where the hand put them, and are remembered as such", () => {
    const marks = {
      onset_s: whole.onset_s + 0.002,
      waterEnd_s: whole.waterEnd_s - 0.004,
      end_s: whole.end_s + 0.01,
    };
    const moved = only({ marks: { 0: marks } });
    expect(moved.onset_s).toBeCloseTo(marks.onset_s, 9);
    expect(moved.waterEnd_s).toBeCloseTo(marks.waterEnd_s, 9);
    expect(moved.end_s).toBeCloseTo(marks.end_s, 9);
    expect(moved.byHand).toEqual(marks);
    expect(moved.measured.impulse_Ns).not.toBe(whole.measured.impulse_Ns);
  });

  test("that are not moved are found as before", () => {
    const moved = only({ marks: { 0: { onset_s: whole.onset_s } } });
    expect(moved.waterEnd_s).toBeCloseTo(whole.waterEnd_s, 6);
    expect(moved.measured.impulse_Ns / whole.measured.impulse_Ns).toBeCloseTo(1, 6);
  });

  test("outside the window are held at its edge, and no number becomes unreal", () => {
    const moved = only({ marks: { 0: { onset_s: -100, end_s: 1e6 } } });
    expect(Number.isFinite(moved.measured.impulse_Ns)).toBe(true);
  });

  test("of a whole event may be given where the search found none", () => {
    const from_s = synthetic.onset_s - 0.02;
    const spans = [{ from_s, to_s: synthetic.onset_s + synthetic.shot.end_s + 0.05 }];
    expect(only({ spans }).measured.impulse_Ns / whole.measured.impulse_Ns).toBeCloseTo(1, 2);
  });
});

describe("columns", () => {
  test("may be given other roles than the guessed ones", () => {
    const roles = ["time", "force", "other"] as const;
    const { channels, ...unnamed } = synthetic.setup;
    const one = reduceCase({ ...synthetic, setup: unnamed }, {}, { roles });
    expect(one.ok && one.value.trace.channels.map((c) => c.name)).toEqual(["north"]);
  });
});
