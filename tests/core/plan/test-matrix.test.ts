import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { randomFrom, shuffled } from "../../../core/plan/random.ts";
import { type MatrixPlan, matrixProgress, testMatrix } from "../../../core/plan/test-matrix.ts";

const plan: MatrixPlan = {
  water_kg: [0.4, 0.6, 0.8],
  setPressure_Pa: [2e5, 3e5],
  replicates: 4,
  crews: ["A", "B"],
  seed: 7,
};
const matrix = (changed: Partial<MatrixPlan> = {}) => {
  const result = testMatrix({ ...plan, ...changed });
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

describe("test matrix", () => {
  test("runs every level once in every block, whatever the seed", () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 6 }), (seed, replicates) => {
        const { slots } = matrix({ seed, replicates });
        expect(slots).toHaveLength(6 * replicates);
        for (let block = 1; block <= replicates; block++) {
          const levels = slots
            .filter((slot) => slot.block === block)
            .map((s) => `${s.water_kg} ${s.setPressure_Pa}`);
          expect(new Set(levels).size).toBe(6);
        }
      }),
    );
  });

  test("deals blocks to crews in turn and says when they come out uneven", () => {
    expect(matrix().slots.filter((slot) => slot.crew === "A")).toHaveLength(12);
    expect(matrix().balanced).toBe(true);
    expect(matrix({ replicates: 3 }).balanced).toBe(false);
  });

  test("is drawn again from its seed, and another seed gives another order", () => {
    expect(matrix().slots).toEqual(matrix().slots);
    expect(matrix({ seed: 8 }).slots).not.toEqual(matrix().slots);
  });

  test("does not put a level into the same place every time", () => {
    const firsts = Array.from({ length: 600 }, (_, seed) => matrix({ seed, replicates: 1 }).slots[0]!);
    for (const water_kg of plan.water_kg) {
      // 200 of 600 expected; 11.5 is one standard deviation.
      expect(Math.abs(firsts.filter((slot) => slot.water_kg === water_kg).length - 200)).toBeLessThan(60);
    }
  });

  test("refuses empty, repeated and impossible levels, all at once", () => {
    const result = testMatrix({
      ...plan,
      water_kg: [],
      setPressure_Pa: [3e5, 3e5, -1],
      replicates: 1.5,
      crews: ["A", "A"],
    });
    expect(result.ok ? [] : result.issues.map(({ code, where }) => `${code} ${where}`)).toEqual([
      "list-empty water_kg",
      "level-repeated setPressure_Pa[1]",
      "value-not-positive setPressure_Pa[2]",
      "level-repeated crews[1]",
      "replicates-not-whole replicates",
    ]);
    expect(testMatrix({ ...plan, crews: [] }).ok).toBe(false);
  });
});

describe("progress", () => {
  const tolerance = { water_kg: 0.005, setPressure_Pa: 5000 };
  const run = (code: string, crew: string, water_kg: number, setPressure_Pa: number) => ({
    code,
    crew,
    water_kg,
    setPressure_Pa,
  });

  test("counts a run for its crew's first open slot of that level", () => {
    const progress = matrixProgress(matrix(), [run("H-1", "A", 0.598, 301_000)], tolerance);
    expect(progress.toRun).toHaveLength(23);
    expect(progress.done).toHaveLength(1);
    expect(progress.done[0]).toMatchObject({ code: "H-1", slot: { crew: "A", block: 1, water_kg: 0.6 } });
  });

  test("does not count a run beside every level, of another crew, or one too many", () => {
    const runs = [
      run("H-1", "A", 0.6, 2.5e5),
      run("H-2", "C", 0.6, 3e5),
      ...["H-3", "H-4", "H-5"].map((code) => run(code, "B", 0.8, 2e5)),
    ];
    const progress = matrixProgress(matrix(), runs, tolerance);
    expect(progress.beside.map(({ code }) => code)).toEqual(["H-1", "H-2", "H-5"]);
    expect(progress.toRun).toHaveLength(22);
  });

  test("is empty once every slot was run in order", () => {
    const { slots } = matrix();
    const runs = slots.map((slot) => run(`H-${slot.order}`, slot.crew, slot.water_kg, slot.setPressure_Pa));
    expect(matrixProgress(matrix(), runs, tolerance)).toMatchObject({ toRun: [], beside: [] });
  });
});

describe("seeded random numbers", () => {
  /** The published recurrence of xoshiro128**, in whole integers, from the state that splitmix gives here. */
  test("are those of xoshiro128**", () => {
    const mask = 0xffffffffn;
    const rotate = (x: bigint, k: bigint) => ((x << k) | (x >> (32n - k))) & mask;
    for (const seed of [0, 1, -1, 123456789]) {
      const s: bigint[] = [];
      let mixing = BigInt(seed >>> 0);
      for (let i = 0; i < 4; i++) {
        mixing = (mixing + 0x9e3779b9n) & mask;
        let z = mixing;
        z = ((z ^ (z >> 16n)) * 0x85ebca6bn) & mask;
        z = ((z ^ (z >> 13n)) * 0xc2b2ae35n) & mask;
        s.push(z ^ (z >> 16n));
      }
      const random = randomFrom(seed);
      for (let i = 0; i < 1000; i++) {
        const expected = (rotate((s[1]! * 5n) & mask, 7n) * 9n) & mask;
        const t = (s[1]! << 9n) & mask;
        s[2]! ^= s[0]!;
        s[3]! ^= s[1]!;
        s[1]! ^= s[2]!;
        s[0]! ^= s[3]!;
        s[2]! ^= t;
        s[3] = rotate(s[3]!, 11n);
        expect(random.next()).toBe(Number(expected));
      }
    }
  });

  test("below a bound every number is about as frequent", () => {
    const random = randomFrom(42);
    const counts = new Array<number>(7).fill(0);
    for (let i = 0; i < 70_000; i++) counts[random.below(7)]!++;
    // One standard deviation is 93.
    for (const count of counts) expect(Math.abs(count - 10_000)).toBeLessThan(500);
  });

  test("a shuffle loses and repeats nothing", () => {
    fc.assert(
      fc.property(fc.array(fc.integer()), fc.integer(), (items, seed) => {
        expect([...shuffled(items, randomFrom(seed))].sort()).toEqual([...items].sort());
      }),
    );
  });
});
