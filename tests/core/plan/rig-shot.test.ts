import { describe, expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { hazardNumbers } from "../../../core/plan/hazard-numbers.ts";
import { rigShot } from "../../../core/plan/rig-shot.ts";
import { predict } from "../../../core/propulsion/prediction.ts";

const { rig } = HERON;
const heronShot = (conditions = { water_kg: 0.6, setPressure_Pa: 3e5 }) => rigShot(rig, conditions);
const good = <T>(result: { ok: true; value: T } | { ok: false; issues: unknown }): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

describe("a rig's shot", () => {
  test("takes bottle, opening, neck and riding mass from the rig, and says what neither gave", () => {
    const { setup, assumed } = good(heronShot());
    expect(setup).toMatchObject({
      bottleVolume_m3: rig.bottle.capacity_m3,
      bottleDiameter_m: rig.bottle.diameter_m,
      openingDiameter_m: rig.opening.diameter_m,
      neckLength_m: rig.opening.neckLength_m,
      ridingMass_kg: rig.ridingMass_kg,
      headOfWater: true,
    });
    expect(assumed).toHaveProperty("polytropicExponent");
    expect(assumed).toHaveProperty("ambientPressure_Pa");
  });

  test("is refused above the bottle's limit, together with all else that is wrong", () => {
    const result = heronShot({ water_kg: 1.6, setPressure_Pa: rig.bottle.limit_Pa + 1 });
    expect(result.ok ? [] : result.issues.map(({ code }) => code)).toEqual([
      "water-exceeds-bottle",
      "pressure-above-limit",
    ]);
    expect(heronShot({ water_kg: 0.6, setPressure_Pa: rig.bottle.limit_Pa }).ok).toBe(true);
  });
});

describe("hazard numbers of a rig's shot", () => {
  const { setup } = good(heronShot());
  const numbers = hazardNumbers(setup, rig.ridingMass_kg);

  test("are the prediction's own, with the edition beside them", () => {
    const prediction = good(predict(setup));
    expect(numbers.stored).toMatchObject({
      edition: "ASME PCC-2-2008, article 5.1",
      energy_J: prediction.energy.pcc2_J,
      tnt_kg: prediction.distance.tnt_kg,
      distance_m: prediction.distance.pcc2_m,
      leastDistanceGoverns: true,
    });
    expect(numbers.thrown.expected.height_m).toBe(prediction.throw!.height_m);
    expect(numbers.thrown.impulseBound.range_m).toBe(prediction.throw!.rangeBound_m);
  });

  test("keep every expectation below its bound, and both bounds apart", () => {
    const { expected, impulseBound, energyBoundHeight_m } = numbers.thrown;
    expect(expected.speed_m_s).toBeLessThan(impulseBound.speed_m_s);
    expect(expected.height_m).toBeLessThan(impulseBound.height_m);
    expect(expected.range_m).toBeLessThan(impulseBound.range_m);
    expect(energyBoundHeight_m).toBeGreaterThan(expected.height_m);
    expect(numbers.stored.wholeBottle_J).toBeGreaterThan(numbers.stored.energy_J);
  });
});
