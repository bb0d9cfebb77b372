import { describe, expect, test } from "vitest";
import { ordinaryCase, type Wishes } from "./synthetic/ordinary.ts";
import { syntheticRecord } from "./synthetic/record.ts";
import { errorsOf, reduceBytes, reduceCase, seeds } from "./synthetic/reduced.ts";
import { Seeded } from "./synthetic/seeded.ts";
import { strangeShapes, strangeShot } from "./synthetic/shot.ts";
import { recordBytes, type TextForm } from "./synthetic/text.ts";

/** Records that are not ordinary, each kind over its own SYNTHETIC seeds; a failure names the seed. */
const firstSeed = 2001;
const perKind = 10;
const fineStep_s = 2e-5;

const each = (check: (seed: number) => void) => {
  for (const seed of seeds(firstSeed, perKind)) check(seed);
};

describe("a file as another recorder writes it", () => {
  const lbf = 1 / 4.4482216152605;
  const forms: [string, Partial<TextForm>, readonly string[], Record<string, unknown>][] = [
    [
      "decimal comma, semicolons and milliseconds",
      {
        separator: ";",
        decimal: ",",
        time: "ms",
        newline: "\r\n",
        header: ["Zeit [ms];links [N];rechts [N]"],
      },
      ["links", "rechts"],
      {},
    ],
    [
      "pounds-force, a sum column and no time",
      {
        separator: "\t",
        time: "none",
        withSum: true,
        perNewton: lbf,
        header: ["% recorder B", "% Ch 1 (lbf)\tCh 2 (lbf)\tSum (lbf)"],
      },
      ["Ch 1", "Ch 2"],
      {},
    ],
    [
      "millivolts with a sensitivity, names among other things",
      {
        perNewton: 11.24,
        header: ["# 2 channels", "# run 7; time_s,left [mV] 11.24 mV/N,right [mV] 11.24 mV/N"],
      },
      ["left", "right"],
      {},
    ],
  ];

  test.each(forms)("%s gives the same impulse", (_name, form, columns, more) => {
    each((seed) => {
      const synthetic = ordinaryCase(seed);
      const plain = errorsOf(reduceCase(synthetic), synthetic);
      const setup = {
        ...synthetic.setup,
        ...(form.time === "none" && { sampleRate_Hz: synthetic.record.rate_Hz }),
        ...more,
        channels: (synthetic.setup["channels"] as Record<string, unknown>[]).map(({ unit, ...c }, k) => ({
          ...c,
          column: columns[k],
        })),
      };
      const found = errorsOf(
        reduceBytes(recordBytes(synthetic.record, { ...form, digits: 5 }), setup),
        synthetic,
      );
      expect(Math.abs(found.impulse - plain.impulse), `seed ${seed}`).toBeLessThan(2e-4);
    });
  });
});

describe("a channel at its limit", () => {
  const clippedAt = (seed: number, part: number, wishes: Wishes = {}) => {
    const free = ordinaryCase(seed, { rockPart: 0, ...wishes });
    const peak = free.record.channels_N[0]!.reduce((most, x) => Math.max(most, x), 0);
    return ordinaryCase(seed, { rockPart: 0, ...wishes, clip_N: [part * peak, Number.POSITIVE_INFINITY] });
  };

  test("is rebuilt from the other to within 0.3 %, and says so", () => {
    each((seed) => {
      const synthetic = clippedAt(seed, 0.4 + 0.05 * (seed % perKind));
      const result = reduceCase(synthetic);
      const errors = errorsOf(result, synthetic);
      expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.003);
      expect(errors.warnings).toContain("clipped-rebuilt");
      if (result.ok) expect(result.value.trace.channels[0]!.clipping.count).toBe(synthetic.record.clipped[0]);
    });
  });

  test("is rebuilt with a discharge time that is fitted, too", () => {
    each((seed) => {
      const synthetic = clippedAt(seed, 0.5, { stated: "fit", discharge_s: [3, 8] });
      expect(Math.abs(errorsOf(reduceCase(synthetic), synthetic).impulse), `seed ${seed}`).toBeLessThan(0.01);
    });
  });

  test("on a frame that rocks carries the doubt in its uncertainty", () => {
    each((seed) => {
      const synthetic = clippedAt(seed, 0.5, { rockPart: 0.1 });
      const result = reduceCase(synthetic);
      const event = result.ok ? result.value.events[0]! : undefined;
      const error = errorsOf(result, synthetic).impulse;
      expect(Math.abs(error), `seed ${seed}`).toBeLessThan(
        4 * (event!.withoutCalibration.u / event!.measured.impulse_Ns) + 0.002,
      );
    });
  });

  test("is refused, not guessed, where the other is at its limit too", () => {
    const synthetic = ordinaryCase(firstSeed, { clip_N: [60, 60] });
    const result = reduceCase(synthetic);
    expect(result.ok && [result.value.events.length, result.value.refused]).toEqual([0, 1]);
    expect(result.ok && result.value.issues.map((i) => i.code)).toContain("clipped-beyond-repair");
  });
});

describe("samples that are missing", () => {
  test("in one piece inside the event cost less than one per cent, and are said", () => {
    each((seed) => {
      const synthetic = ordinaryCase(seed, { rockPart: 0 });
      const { rate_Hz } = synthetic.record;
      const from = Math.round(
        (synthetic.onset_s + synthetic.shot.waterEnd_s * (0.1 + 0.07 * (seed % perKind))) * rate_Hz,
      );
      const missing = new Set(Array.from({ length: Math.round(0.006 * rate_Hz) }, (_, i) => from + i));
      const errors = errorsOf(reduceCase(synthetic, { missing }), synthetic);
      expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.01);
      expect(errors.warnings).toContain("gap-in-event");
    });
  });

  test("one in fifty anywhere, and doubled ones between them, cost less than one per cent", () => {
    each((seed) => {
      const synthetic = ordinaryCase(seed);
      const random = new Seeded(seed);
      const missing = new Set<number>();
      const doubled = new Set<number>();
      for (let i = 1; i < synthetic.record.time_s.length; i++) {
        if (random.chance(0.02)) missing.add(i);
        else if (random.chance(0.01)) doubled.add(i);
      }
      const result = reduceCase(synthetic, { missing, doubled });
      expect(Math.abs(errorsOf(result, synthetic).impulse), `seed ${seed}`).toBeLessThan(0.01);
      if (result.ok) expect(result.value.trace.duplicates).toBe(doubled.size);
    });
  });
});

describe("a stopper held outside the force path", () => {
  test.each([
    ["told", { discharge_s: 12 }],
    ["fitted", { discharge_s: 8, stated: "fit" }],
    ["holding", { discharge_s: Number.POSITIVE_INFINITY }],
  ] satisfies [string, Wishes][])(
    "gives the impulse within one per cent, discharge time %s",
    (_how, wishes) => {
      each((seed) => {
        const synthetic = ordinaryCase(seed, {
          stopperOutside: true,
          conditions: { opening_m: 0.0217 },
          ...wishes,
        });
        const errors = errorsOf(reduceCase(synthetic), synthetic);
        expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.01);
        expect(errors.warnings).toContain("stopper-outside");
      });
    },
  );

  test("is seen by the final level where nobody stated it, and echoed", () => {
    const synthetic = ordinaryCase(firstSeed, { stopperOutside: true });
    const { stopperHeld, ...unstated } = synthetic.setup;
    const result = reduceBytes(recordBytes(synthetic.record), unstated);
    expect(Math.abs(errorsOf(result, synthetic).impulse)).toBeLessThan(0.01);
    expect(result.ok && result.value.assumed["stopperHeld"]).toBe("outside");
    expect(result.ok && result.value.issues.map((i) => i.code)).toEqual(["stopper-held-outside"]);
  });

  test("is refused where the setup says inside", () => {
    const synthetic = ordinaryCase(firstSeed, { stopperOutside: true });
    const result = reduceBytes(recordBytes(synthetic.record), { ...synthetic.setup, stopperHeld: "inside" });
    expect(result.ok && result.value.events).toEqual([]);
    expect(result.ok && result.value.issues.map((i) => i.code)).toEqual([
      "stopper-held-outside",
      "no-event-found",
    ]);
  });
});

describe("hands on the stand", () => {
  test.each([
    ["a big slow push", { lasts_s: 0.3, peak_N: 40, before_s: 0.75 }],
    ["a short push near the event", { lasts_s: 0.15, peak_N: 60, before_s: 0.5 }],
    ["a push too gentle to be noticed", { lasts_s: 0.2, peak_N: 5, before_s: 0.4 }],
  ])("before the event, %s, does no harm", (_how, { lasts_s, peak_N, before_s }) => {
    each((seed) => {
      const at_s = ordinaryCase(seed).onset_s - before_s;
      const synthetic = ordinaryCase(seed, { bumps: [{ at_s, lasts_s, peak_N }] });
      const errors = errorsOf(reduceCase(synthetic), synthetic);
      expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.003);
      expect(Math.abs(errors.onset_s), `seed ${seed}`).toBeLessThan(0.002);
    });
  });

  test("after the event end the tail there, and are said", () => {
    const synthetic = ordinaryCase(firstSeed, { length_s: 4 });
    const at_s = synthetic.onset_s + synthetic.shot.end_s + 1;
    const bumped = ordinaryCase(firstSeed, { length_s: 4, bumps: [{ at_s, lasts_s: 0.6, peak_N: 3 }] });
    const errors = errorsOf(reduceCase(bumped), bumped);
    expect(Math.abs(errors.impulse)).toBeLessThan(0.003);
  });
});

describe("several firings in one file", () => {
  test("are each found and reduced under their own conditions", () => {
    each((seed) => {
      const first = ordinaryCase(seed, { discharge_s: 10 });
      const second = ordinaryCase(seed + 500, { discharge_s: 10 });
      const shots = [
        { onset_s: 1.2, shot: first.shot },
        { onset_s: 4.2, shot: second.shot },
      ];
      const record = syntheticRecord({ ...first.record.faults, length_s: 6.5, shots }, new Seeded(seed));
      const { channels, ...conditions } = second.setup;
      const result = reduceBytes(recordBytes(record), { ...first.setup, events: [{}, conditions] });
      if (!result.ok) throw new Error(`seed ${seed}: ${result.issues.map((i) => i.code)}`);
      const { events } = result.value;
      expect(events, `seed ${seed}`).toHaveLength(2);
      for (const [i, { shot }] of shots.entries()) {
        expect(Math.abs(events[i]!.measured.impulse_Ns / shot.impulse_Ns - 1), `seed ${seed}`).toBeLessThan(
          0.003,
        );
        expect(events[i]!.expelled_kg).toBe(i === 0 ? first.setup["water_kg"] : conditions["water_kg"]);
      }
    });
  });

  test("beyond the conditions given are said", () => {
    const one = ordinaryCase(firstSeed, { discharge_s: 10 });
    const shots = [1.2, 4.2].map((onset_s) => ({ onset_s, shot: one.shot }));
    const record = syntheticRecord({ ...one.record.faults, length_s: 6.5, shots }, new Seeded(1));
    const result = reduceBytes(recordBytes(record), { ...one.setup, events: [{}] });
    expect(result.ok && result.value.issues.map((i) => i.code)).toEqual(["more-events-than-conditions"]);
  });
});

describe("a pulse that no bottle gives", () => {
  test.each(strangeShapes.filter((shape) => shape !== "exponential"))(
    "as a %s still integrates within one per cent",
    (shape) => {
      each((seed) => {
        const synthetic = ordinaryCase(seed, {
          shot: (random, conditions) =>
            strangeShot(
              shape,
              random.between(8, 14),
              random.between(0.08, 0.2),
              conditions.water_kg,
              false,
              fineStep_s,
            ),
        });
        const errors = errorsOf(reduceCase(synthetic), synthetic);
        expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.01);
      });
    },
  );

  test("that only dies away says that the water's end is not seen, and is less certain", () => {
    const synthetic = ordinaryCase(firstSeed, {
      shot: (_, conditions) => strangeShot("exponential", 11, 0.1, conditions.water_kg, false, fineStep_s),
    });
    const result = reduceCase(synthetic);
    const errors = errorsOf(result, synthetic);
    expect(errors.warnings).toContain("water-end-not-seen");
    const event = result.ok ? result.value.events[0]! : undefined;
    expect(Math.abs(errors.impulse)).toBeLessThan(
      3 * (event!.withoutCalibration.u / event!.measured.impulse_Ns),
    );
  });
});

describe("a low, long push", () => {
  test("through a narrow opening is taken as one event, not cut after its start", () => {
    each((seed) => {
      const synthetic = ordinaryCase(seed, { conditions: { opening_m: 0.009 }, length_s: 5, hum_N: 0 });
      const errors = errorsOf(reduceCase(synthetic), synthetic);
      expect(Math.abs(errors.impulse), `seed ${seed}`).toBeLessThan(0.01);
    });
  });
});
