import type { ShotSetup } from "../exchange/setup-shot.ts";
import { icePoint_K } from "./constants.ts";
import { polytropicPrior } from "./polytropic-prior.ts";

/** What the equations see of a setup: absolute pressures, areas, kelvin. Symbols as in docs/model.md. */
export type Shot = {
  /** V_b: capacity to the exit plane. */
  readonly bottleVolume_m3: number;
  readonly waterVolume_m3: number;
  /** V0 = V_b less the water. */
  readonly airVolume_m3: number;
  readonly water_kg: number;
  /** ρ */
  readonly density_kg_m3: number;
  /** p_a */
  readonly ambient_Pa: number;
  /** p0, absolute. */
  readonly start_Pa: number;
  /** T0 */
  readonly airTemperature_K: number;
  /** n */
  readonly exponent: number;
  /** A_j = C_c A */
  readonly jetArea_m2: number;
  /** C_v */
  readonly velocityCoefficient: number;
  /** σ = A_j / A_s; 0 where the bottle's section is not known. */
  readonly areaRatio: number;
  /** 1 / A_s for the head of water; 0 where no head is used. */
  readonly headPerVolume_m_m3: number;
  /** L_n as far as it adds head; 0 where no head is used. */
  readonly neckHead_m: number;
  /** g, local. */
  readonly gravity_m_s2: number;
};

/** The shot of a setup; without an exponent given, at the mean of its prior. */
export function shotOf(setup: ShotSetup): Shot {
  const waterVolume_m3 = setup.water_kg / setup.waterDensity_kg_m3;
  const jetArea_m2 = setup.contraction * discArea_m2(setup.openingDiameter_m);
  const bottleSection_m2 =
    setup.bottleDiameter_m === undefined ? Infinity : discArea_m2(setup.bottleDiameter_m);
  const head = setup.headOfWater && setup.bottleDiameter_m !== undefined;
  return {
    bottleVolume_m3: setup.bottleVolume_m3,
    waterVolume_m3,
    airVolume_m3: setup.bottleVolume_m3 - waterVolume_m3,
    water_kg: setup.water_kg,
    density_kg_m3: setup.waterDensity_kg_m3,
    ambient_Pa: setup.ambientPressure_Pa,
    start_Pa: setup.ambientPressure_Pa + setup.setPressure_Pa,
    airTemperature_K: setup.airTemperature_C + icePoint_K,
    exponent: setup.polytropicExponent ?? polytropicPrior(setup.airTemperature_C).mean,
    jetArea_m2,
    velocityCoefficient: setup.velocityCoefficient,
    areaRatio: jetArea_m2 / bottleSection_m2,
    headPerVolume_m_m3: head ? 1 / bottleSection_m2 : 0,
    neckHead_m: head ? (setup.neckLength_m ?? 0) : 0,
    gravity_m_s2: setup.gravity_m_s2,
  };
}

export const discArea_m2 = (diameter_m: number) => (Math.PI / 4) * diameter_m * diameter_m;
