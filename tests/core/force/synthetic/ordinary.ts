import { fineStep_s, type RecordFaults, type SyntheticRecord, syntheticRecord } from "./record.ts";
import { Seeded } from "./seeded.ts";
import { type Shot, type ShotConditions, waterShot } from "./shot.ts";

/** One SYNTHETIC case: the record, the setup as a person would state it, and the truth beside it. */
export type Case = {
  readonly seed: number;
  readonly record: SyntheticRecord;
  readonly conditions: ShotConditions;
  readonly setup: Record<string, unknown>;
  readonly shot: Shot;
  readonly onset_s: number;
};

export type Wishes = Partial<Omit<RecordFaults, "channels" | "shots">> & {
  readonly discharge_s?: number | readonly number[];
  /** What the setup says: the true time (with a small error) or that it is to be fitted. */
  readonly stated?: "true" | "fit" | "none";
  readonly clip_N?: readonly number[];
  readonly sign?: 1 | -1;
  readonly gainRelU?: number;
  readonly channels?: number;
  readonly shot?: (random: Seeded, conditions: ShotConditions) => Shot;
  readonly drift_N_s?: number;
  readonly noise_N?: number;
  readonly conditions?: Partial<ShotConditions>;
  /** The setup errs as a crew does: mass by 0.3 %, discharge time by 0.5 %, k = 1. */
  readonly misstated?: boolean;
};

/** Draws what a careful crew may hand in: everything about stand, bottle and recorder varies. */
export function ordinaryCase(seed: number, wishes: Wishes = {}): Case {
  const random = new Seeded(seed);
  const bottle_m3 = random.oneOf([0.001, 0.0015, 0.0015, 0.002]);
  const conditions: ShotConditions = {
    water_kg: Math.round(bottle_m3 * random.between(0.3, 0.55) * 1e5) / 100,
    gauge_Pa: Math.round(random.between(2e5, 5e5) / 1000) * 1000,
    bottle_m3,
    opening_m: random.oneOf([0.0217, 0.0217, 0.0217, 0.018, 0.013]),
    bottleDiameter_m: random.between(0.082, 0.11),
    neck_m: random.between(0.015, 0.045),
    density_kg_m3: 998.2067,
    ambient_Pa: random.oneOf([101325, 101325, 95000, 85000]),
    exponent: random.between(1.1, 1.4),
    release_s: random.between(0.5e-3, 5e-3),
    waterEnd: random.oneOf(["slug", "slug", "spray"] as const),
    ...wishes.conditions,
  };
  const shot = wishes.shot?.(random, conditions) ?? waterShot(conditions, fineStep_s);
  const count = wishes.channels ?? 2;
  const share = random.between(0.35, 0.65);
  const drawn = random.logBetween(0.5, 60);
  const tauOf = (k: number) =>
    typeof wishes.discharge_s === "number" ? wishes.discharge_s : (wishes.discharge_s?.[k] ?? drawn);
  const gainRelU = wishes.gainRelU ?? 0;
  const together = random.normal();
  const noiseDrawn_N = random.logBetween(0.03, 0.5);
  const noise_N = wishes.noise_N ?? noiseDrawn_N;
  const onset_s = random.between(0.9, 1.6);
  const ring_Hz = random.between(90, 300);
  const faults: RecordFaults = {
    rate_Hz: random.oneOf([1000, 1652, 2000, 4000, 5000, 10000]),
    length_s: onset_s + random.between(1.5, 3),
    ring_Hz,
    damping: random.between(0.02, 0.05),
    rock_Hz: random.between(90, 250),
    rockPart: random.oneOf([0, 0, 0.1]),
    lag_s: random.oneOf([0, 0.2e-3, 0.8e-3]),
    hum_Hz: random.oneOf([50, 60]),
    hum_N: random.oneOf([0, 0.1, 0.3]),
    stopperOutside: false,
    bumps: [],
    shots: [{ onset_s, shot }],
    channels: Array.from({ length: count }, (_, k) => ({
      share: count === 1 ? 1 : k === 0 ? share : (1 - share) / (count - 1),
      discharge_s: tauOf(k),
      gain: 1 + gainRelU * together,
      sign: wishes.sign ?? 1,
      offset_N: random.between(-1.5, 1.5),
      drift_N_s: wishes.drift_N_s ?? random.normal() * 0.02,
      noise_N,
      quantum_N: random.oneOf([1e-4, 1e-3, 0.01]),
      clip_N: wishes.clip_N?.[k] ?? Infinity,
    })),
    ...faultsWished(wishes),
  };
  const setup = setupOf(wishes, conditions, faults, random);
  return { seed, record: syntheticRecord(faults, random), conditions, setup, shot, onset_s };
}

/** S.json as somebody would write it for this shot. */
function setupOf(wishes: Wishes, conditions: ShotConditions, faults: RecordFaults, random: Seeded) {
  const stated = wishes.stated ?? "true";
  const err = (relU: number) => (wishes.misstated ? 1 + relU * random.normal() : 1);
  const massError = err(0.003);
  return {
    water_kg: conditions.water_kg * massError,
    setPressure_Pa: conditions.gauge_Pa,
    bottleVolume_m3: conditions.bottle_m3,
    openingDiameter_m: conditions.opening_m,
    bottleDiameter_m: conditions.bottleDiameter_m,
    neckLength_m: conditions.neck_m,
    ambientPressure_Pa: conditions.ambient_Pa,
    waterDensity_kg_m3: conditions.density_kg_m3,
    ...(faults.stopperOutside && { stopperHeld: "outside" }),
    channels: faults.channels.map((c, k) => ({
      column: columnNames[k],
      unit: "N",
      sign: c.sign,
      dischargeTime_s:
        stated !== "true" ? stated : Number.isFinite(c.discharge_s) ? c.discharge_s * err(0.005) : "none",
    })),
  };
}

export const columnNames = ["north_N", "south_N", "east_N"] as const;

function faultsWished(wishes: Wishes): Partial<RecordFaults> {
  const {
    discharge_s,
    stated,
    clip_N,
    sign,
    gainRelU,
    channels,
    shot,
    drift_N_s,
    noise_N,
    conditions,
    misstated,
    ...faults
  } = wishes;
  return faults;
}
