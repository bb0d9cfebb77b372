import type { TermRunDone } from "../../app/demo/term/term.ts";
import { fineStep_s, syntheticRecord } from "../core/force/synthetic/record.ts";
import { Seeded } from "../core/force/synthetic/seeded.ts";
import { waterShot } from "../core/force/synthetic/shot.ts";
import { recordText } from "../core/force/synthetic/text.ts";

/**
 * A SYNTHETIC record for one run of Heron, from the physics with a stand that rings, channels that droop as the rig
 * says and a recorder that is noisy; everything that nobody states is drawn from the seed.
 */
export function freshRecord(
  seed: number,
  { documents: { rig } }: TermRunDone,
  shot: { water_kg: number; set_Pa: number },
) {
  const luck = new Seeded(seed);
  const truth = waterShot(
    {
      water_kg: shot.water_kg,
      gauge_Pa: shot.set_Pa,
      bottle_m3: rig.bottle.capacity_m3,
      opening_m: rig.opening.diameter_m,
      bottleDiameter_m: rig.bottle.diameter_m!,
      neck_m: rig.opening.neckLength_m!,
      density_kg_m3: 998.2067,
      ambient_Pa: 101_325,
      exponent: luck.between(1.2, 1.38),
      release_s: luck.between(0.5e-3, 4e-3),
      waterEnd: luck.oneOf(["slug", "spray"] as const),
    },
    fineStep_s,
  );
  const share = luck.between(0.4, 0.6);
  const noise_N = luck.logBetween(0.05, 0.4);
  const record = syntheticRecord(
    {
      rate_Hz: luck.oneOf([2000, 4000, 5000]),
      length_s: 3.2,
      ring_Hz: luck.between(120, 260),
      damping: luck.between(0.02, 0.05),
      rock_Hz: 150,
      rockPart: 0,
      lag_s: 0,
      hum_Hz: 50,
      hum_N: luck.oneOf([0, 0.1]),
      stopperOutside: false,
      bumps: [],
      shots: [{ onset_s: luck.between(0.9, 1.4), shot: truth }],
      channels: rig.channels.map(({ dischargeTime_s }, k) => ({
        share: k === 0 ? share : 1 - share,
        discharge_s: Number(dischargeTime_s),
        gain: 1,
        sign: 1,
        offset_N: luck.between(-1, 1),
        drift_N_s: 0.01 * luck.normal(),
        noise_N,
        quantum_N: 1e-3,
        clip_N: Number.POSITIVE_INFINITY,
      })),
    },
    luck,
  );
  return { text: recordText(record), impulse_Ns: truth.impulse_Ns };
}
