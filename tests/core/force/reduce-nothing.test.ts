import { describe, expect, test } from "vitest";
import { ordinaryCase, type Wishes } from "./synthetic/ordinary.ts";
import { reduceBytes, reduceCase, seeds } from "./synthetic/reduced.ts";
import { strangeShot } from "./synthetic/shot.ts";
import { recordBytes } from "./synthetic/text.ts";

const fineStep_s = 2e-5;
const nothing = () => strangeShot("rectangle", 1e-9, 0.1, 1e-9, true, fineStep_s);

/** SYNTHETIC records without a shot; a failure names the seed. */
const codesOf = (seed: number, wishes: Wishes) => {
  const result = reduceCase(ordinaryCase(seed, wishes));
  if (!result.ok) throw new Error(`seed ${seed}: ${result.issues.map((i) => i.code)}`);
  return { events: result.value.events.length, codes: result.value.issues.map((i) => i.code) };
};
const none = { events: 0, codes: ["no-event-found"] };

describe("no event is found", () => {
  test.each(["true", "fit"] as const)("in noise, hum and drift, discharge time %s", (stated) => {
    for (const seed of seeds(3001, 30)) {
      expect(codesOf(seed, { shot: nothing, stated, drift_N_s: 0.1 }), `seed ${seed}`).toEqual(none);
    }
  });

  test.each(["true", "fit"] as const)(
    "in hands on the stand, gentle or rough, discharge time %s",
    (stated) => {
      for (const seed of seeds(3101, 30)) {
        const k = seed - 3100;
        const bumps = [{ at_s: 0.6, lasts_s: 0.1 + 0.3 * ((k % 10) / 10), peak_N: 5 + 6 * k }];
        expect(codesOf(seed, { shot: nothing, stated, bumps }), `seed ${seed}`).toEqual(none);
      }
    },
  );

  test("in knocks on the frame", () => {
    for (const seed of seeds(3201, 30)) {
      const k = seed - 3200;
      const shot = () => strangeShot("half-sine", 0.1 * k, 0.003 + 0.001 * (k % 5), 1e-9, true, fineStep_s);
      expect(codesOf(seed, { shot }), `seed ${seed}`).toEqual(none);
    }
  });

  test("in a weight that is taken off slowly and stays off", () => {
    for (const seed of seeds(3301, 10)) {
      const shot = () => strangeShot("rectangle", 1e-6, 1.2, 0.5, true, fineStep_s);
      expect(codesOf(seed, { shot, discharge_s: Number.POSITIVE_INFINITY }), `seed ${seed}`).toEqual(none);
    }
  });
});

describe("a shot upside down", () => {
  test("is not turned round in silence: it is refused with the reason", () => {
    const synthetic = ordinaryCase(3401, { sign: -1 });
    const channels = (synthetic.setup["channels"] as Record<string, unknown>[]).map((c) => ({
      ...c,
      sign: 1,
    }));
    const result = reduceBytes(recordBytes(synthetic.record), { ...synthetic.setup, channels });
    expect(result.ok && [result.value.events.length, result.value.issues.map((i) => i.code)]).toEqual([
      0,
      ["sign-reversed", "no-event-found"],
    ]);
  });
});

describe("numbers beyond any bottle", () => {
  test("are refused by line and column", () => {
    const synthetic = ordinaryCase(3402);
    const result = reduceCase(synthetic, { perNewton: 1e5 });
    expect(result.ok ? [] : result.issues.map((i) => i.code)).toEqual([
      "numbers-too-large",
      "numbers-too-large",
    ]);
    expect(result.ok ? "" : result.issues[0]!.where).toMatch(/^line \d+, column 2$/);
  });
});
