import { describe, expect, test } from "vitest";
import type { Arc } from "../../../core/propulsion/burn-arcs.ts";
import { throwOf } from "../../../core/propulsion/throw.ts";

const gravity_m_s2 = 10;
const mass_kg = 2;
const thrown = (arcs: readonly Arc[]) =>
  throwOf(arcs, { ridingMass_kg: mass_kg, impulse_Ns: 1000, gravity_m_s2 });

/** Thrust given over time, no water: time is the arc's variable. */
const pushed = (duration_s: number, thrust_N: (t_s: number) => number): Arc => ({
  phase: "air",
  from: 0,
  to: duration_s,
  at: (t_s, moment) => {
    moment.timeRate_s = 1;
    moment.thrust_N = thrust_N(t_s);
    moment.water_kg = 0;
  },
});

/** Closed forms by hand: 2 kg weigh 20 N, every push below is constant. */
describe("the ground under a thrown stand", () => {
  test("holds what never gets light enough", () => {
    expect(thrown([pushed(1, () => 19.9)])).toMatchObject({ speed_m_s: 0, height_m: 0 });
  });

  test("takes back what falls on it, and the height it had reached stays", () => {
    // Up at 1 m/s² for 1 s, then nothing: 0.5 m and 1 m/s, 0.05 m more, down within 0.5 s.
    const { speed_m_s, height_m } = thrown([pushed(1, () => 22), pushed(1, () => 0)]);
    expect(speed_m_s).toBe(0);
    expect(height_m).toBeCloseTo(0.55, 12);
  });

  test("lets it rise again from rest where the thrust exceeds the weight once more", () => {
    const { speed_m_s, height_m } = thrown([pushed(1, () => 22), pushed(1, () => 0), pushed(1, () => 24)]);
    // From rest at 2 m/s² for 1 s: 2 m/s at 1 m, 0.2 m more.
    expect(speed_m_s).toBeCloseTo(2, 12);
    expect(height_m).toBeCloseTo(1.2, 12);
  });

  test("is met while falling under a push too weak to stop the fall", () => {
    // 0.5 m, 1 m/s; 0.4 s later 0.1 m, -3 m/s; at 1 m/s² the fall needs 3 s and 4.5 m: it lands.
    const { speed_m_s, height_m } = thrown([pushed(1, () => 22), pushed(0.4, () => 0), pushed(1, () => 22)]);
    const landing_s = 3 - Math.sqrt(9 - 0.2);
    expect(speed_m_s).toBeCloseTo(1 - landing_s, 12);
    expect(height_m).toBeCloseTo(Math.max(0.55, (1 - landing_s) ** 2 / 2 + (1 - landing_s) ** 2 / 20), 12);
  });

  test("is not met where the push stops the fall in time", () => {
    // 0.1 s of fall: 0.55 m at rest; at 1 m/s² up again.
    const { speed_m_s, height_m } = thrown([pushed(1, () => 22), pushed(0.1, () => 0), pushed(1, () => 22)]);
    expect(speed_m_s).toBeCloseTo(1, 12);
    expect(height_m).toBeCloseTo(0.55 + 0.5 + 0.05, 12);
  });

  test("is met within one arc of water whose push sinks below the weight and rises above it again", () => {
    // The load lightens as exp(-0.7 t) and thrust falls so that a = 5 cos(t + 45°) m/s² all along.
    const end_s = (11 / 4) * Math.PI;
    const lightening: Arc = {
      phase: "water",
      from: 0,
      to: end_s,
      at: (t_s, moment) => {
        const all_kg = mass_kg * Math.exp(0.7 * (end_s - t_s));
        moment.timeRate_s = 1;
        moment.thrust_N = all_kg * (gravity_m_s2 + 5 * Math.cos(t_s + Math.PI / 4));
        moment.water_kg = all_kg - mass_kg;
      },
    };
    const { speed_m_s, height_m } = thrown([lightening]);
    // Landed by 270°, where the push comes back: v = 5 (1 + sin θ), 5 m/s at 540°.
    expect(speed_m_s).toBeCloseTo(5, 6);
    const risen_m = 5 * ((3 / 2) * Math.PI - (Math.cos(3 * Math.PI) - Math.cos((3 / 2) * Math.PI)));
    expect(height_m).toBeCloseTo(risen_m + 25 / 20, 6);
  });

  test("gives no way to an impulse that points down, and what flies loses it at once", () => {
    // Standing: nothing. At 1 m/s after 0.5 m: 6 N s take 3 m/s off 2 kg, and the height reached stays.
    const struck = (arc: Arc): Arc => ({ ...arc, endImpulse_Ns: -6 });
    expect(thrown([struck(pushed(1, () => 19))])).toMatchObject({ speed_m_s: 0, height_m: 0 });
    const { speed_m_s, height_m } = thrown([struck(pushed(1, () => 22))]);
    expect(speed_m_s).toBeCloseTo(-2, 12);
    expect(height_m).toBeCloseTo(0.5, 12);
  });

  test("is left at once where the thrust begins above the weight, and lands between two looks", () => {
    // 2 kg at 90 m/s² falling to -10: v = 90 t - 50 t²/0.1 up to 0.1 s, then 0.1 s of fall and more.
    const { speed_m_s, height_m } = thrown([pushed(0.1, (t_s) => 200 - 2000 * t_s), pushed(2, () => 0)]);
    expect(speed_m_s).toBe(0);
    // 4 m/s at 0.45 - 0.5/3 m, then 0.8 m of coasting.
    expect(height_m).toBeCloseTo(0.45 - 0.5 / 3 + 0.8, 12);
  });
});
