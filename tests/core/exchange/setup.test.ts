import { describe, expect, test } from "vitest";
import { parseSetup } from "../../../core/exchange/setup.ts";

const required = { water_kg: 0.7, setPressure_Pa: 3e5, bottleVolume_m3: 0.0015, openingDiameter_m: 0.0217 };

const accepted = (json: unknown, verb: "predict" | "reduce" = "predict") => {
  const result = parseSetup(json, verb);
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
const refusals = (json: unknown, verb: "predict" | "reduce" = "predict") => {
  const result = parseSetup(json, verb);
  return result.ok ? [] : result.issues.map(({ code, where }) => `${code} ${where}`);
};

describe("defaults", () => {
  test("are resolved and echoed, every one that a prediction uses", () => {
    const { setup, assumed } = accepted({ ...required, bottleDiameter_m: 0.088 });
    expect(assumed).toEqual({
      ambientPressure_Pa: 101_325,
      waterTemperature_C: 20,
      airTemperature_C: 20,
      polytropicExponent: expect.closeTo(1.29015, 5),
      contraction: 1,
      velocityCoefficient: 1,
      headOfWater: true,
      gravity_m_s2: 9.80665,
    });
    expect(setup.waterDensity_kg_m3).toBeCloseTo(998.2067, 4);
    expect(setup.polytropicExponent).toBeUndefined();
  });

  test("are not echoed where the setup states the value", () => {
    const stated = {
      ...required,
      bottleDiameter_m: 0.088,
      ambientPressure_Pa: 83_400,
      waterDensity_kg_m3: 997,
      airTemperature_C: 5,
      polytropicExponent: 1.25,
      contraction: 0.9,
      velocityCoefficient: 0.97,
      headOfWater: false,
      gravity_m_s2: 9.79,
      neckLength_m: 0.03,
    };
    expect(accepted(stated).assumed).toEqual({});
    expect(accepted(stated).setup).toMatchObject({ ...stated, neckDiameter_m: 0.0217 });
  });

  test("of the record are echoed by a reduction alone, channel by channel", () => {
    const json = {
      ...required,
      channels: [{ column: "north_N" }, { column: 2, sign: -1, dischargeTime_s: 12 }],
    };
    expect(accepted(json, "predict").assumed).not.toHaveProperty("channels");
    const { setup, assumed } = accepted(json, "reduce");
    expect(assumed).toMatchObject({
      stopperHeld: "inside",
      calibratedTogether: true,
      channels: [
        { sign: 1, dischargeTime_s: "fit", dischargeTimeRelU: 0.005, sensitivityRelU: 0.01 },
        { dischargeTimeRelU: 0.005, sensitivityRelU: 0.01 },
      ],
    });
    expect(assumed).not.toHaveProperty("polytropicExponent");
    expect(setup.channels?.[1]).toEqual({
      column: 2,
      sign: -1,
      dischargeTime_s: 12,
      dischargeTimeRelU: 0.005,
      sensitivityRelU: 0.01,
    });
  });

  test("head is off without a bottle diameter, and that is said even where it was asked for", () => {
    expect(accepted(required)).toMatchObject({
      setup: { headOfWater: false },
      assumed: { headOfWater: false },
    });
    expect(accepted({ ...required, headOfWater: true }).assumed).toMatchObject({ headOfWater: false });
    expect(accepted({ ...required, headOfWater: false }).assumed).not.toHaveProperty("headOfWater");
  });

  test("the density follows the water's temperature, and a stated density comes first", () => {
    expect(accepted({ ...required, waterTemperature_C: 4 }).setup.waterDensity_kg_m3).toBeCloseTo(
      999.9749,
      4,
    );
    expect(
      accepted({ ...required, waterTemperature_C: 4, waterDensity_kg_m3: 1001 }).setup.waterDensity_kg_m3,
    ).toBe(1001);
  });
});

describe("events", () => {
  test("inherit the file's conditions and state what differs", () => {
    const json = {
      ...required,
      waterDensity_kg_m3: 1001,
      events: [{}, { water_kg: 0.5, waterTemperature_C: 30 }],
    };
    const [first, second] = accepted(json, "reduce").setup.events!;
    expect(first).toMatchObject({ water_kg: 0.7, waterDensity_kg_m3: 1001 });
    expect(second!.water_kg).toBe(0.5);
    expect(second!.waterDensity_kg_m3).toBeCloseTo(995.6488, 4);
  });

  test("say what is wrong at their own place, and repeat nothing of the file's", () => {
    expect(
      refusals({ ...required, events: [{ water_kg: 1.6 }, { wind_m_s: 3 }, { sampleRate_Hz: 100 }, 7] }),
    ).toEqual([
      "water-exceeds-bottle events[0].water_kg",
      "key-unknown events[1].wind_m_s",
      "key-unknown events[2].sampleRate_Hz",
      "wrong-type events[3]",
    ]);
    expect(refusals({ ...required, water_kg: -1, events: [{}, { gravity_m_s2: 9.8 }] })).toEqual([
      "out-of-range water_kg",
    ]);
  });
});

describe("refuses", () => {
  test.each([null, 3, "x", [required], true])("%j, which is not an object", (json) => {
    expect(refusals(json)).toEqual(["setup-not-an-object setup"]);
  });

  test("everything that is wrong at once", () => {
    expect(
      refusals({
        water_kg: 1.6,
        setPressure_Pa: 3,
        bottleVolume_m3: 0.0015,
        bottleDiameter_m: 0.02,
        openingDiameter_m: 0.0217,
        polytropicExponent: 1.41,
        wetness: 1,
        stopperHeld: "beside",
        sampleRate_Hz: "fast",
        channels: [{ sign: 2 }, { column: "a", colour: "red" }],
        calibratedTogether: "yes",
        events: [],
      }),
    ).toEqual([
      "key-unknown wetness",
      "out-of-range setPressure_Pa",
      "out-of-range polytropicExponent",
      "wrong-type stopperHeld",
      "water-exceeds-bottle water_kg",
      "opening-exceeds-bottle openingDiameter_m",
      "wrong-type sampleRate_Hz",
      "wrong-type calibratedTogether",
      "key-missing channels[0].column",
      "wrong-type channels[0].sign",
      "key-unknown channels[1].colour",
      "list-empty events",
    ]);
  });

  test("every missing key, by name", () => {
    expect(refusals({})).toEqual(Object.keys(required).map((key) => `key-missing ${key}`));
  });

  test.each([
    ["water_kg", -0.1],
    ["setPressure_Pa", 300],
    ["setPressure_Pa", -3e5],
    ["bottleVolume_m3", 1.5],
    ["openingDiameter_m", 21.7],
    ["bottleDiameter_m", 88],
    ["neckLength_m", 30],
    ["ambientPressure_Pa", 1013.25],
    ["waterDensity_kg_m3", 0.998],
    ["waterTemperature_C", 293.15],
    ["airTemperature_C", 293.15],
    ["polytropicExponent", 0.99],
    ["contraction", 1.01],
    ["velocityCoefficient", 0],
    ["gravity_m_s2", -9.8],
    ["ridingMass_kg", 0],
    ["sampleRate_Hz", 0],
  ])("%s = %d as out of range, clipping nothing", (key, value) => {
    expect(refusals({ ...required, [key]: value })).toContain(`out-of-range ${key}`);
  });

  test.each(["0.7", null, true, [0.7], {}])("water_kg = %j, which is not a number", (value) => {
    expect(refusals({ ...required, water_kg: value })).toEqual(["wrong-type water_kg"]);
  });

  test("a bottle brim full of water: there must be air", () => {
    expect(refusals({ ...required, water_kg: 1.5, waterDensity_kg_m3: 1000 })).toEqual([
      "water-exceeds-bottle water_kg",
    ]);
  });

  test("an unknown key by naming the key that was meant", () => {
    const result = parseSetup({ ...required, setPressure_bar: 3, HeadOfWater: true }, "predict");
    expect(result.ok ? [] : result.issues.map(({ remedy }) => remedy)).toEqual([
      "did you mean setPressure_Pa?",
      "did you mean headOfWater?",
    ]);
  });

  test("a column that is named twice", () => {
    expect(
      refusals({ ...required, channels: [{ column: "a" }, { column: "b" }, { column: "a" }] }, "reduce"),
    ).toEqual(["channel-repeated channels[2].column"]);
  });
});
