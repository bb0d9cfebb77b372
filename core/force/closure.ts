import type { ShotSetup } from "../exchange/setup-shot.ts";
import { leastSquares } from "../uncertainty/least-squares.ts";
import type { Outflow } from "./weight.ts";

/** What the record says about the jet and the air, once the weight that left fixes the flow. */
export type Closure = {
  /** Kinetic energy of the water jet, ∫ ρQ³/(2Aⱼ²) dt. */
  readonly jetEnergy_J: number;
  /** Slope of −ln p on ln V over the water phase; absent where the flow does not show it. */
  readonly polytropicExponent?: number;
};

/** The start's acceleration and the end's hand-over are left out of the slope. */
const usedFrom = 0.15;
const usedTo = 0.85;
const leastSamples = 12;

export function closeBalance(
  outflow: Outflow,
  rate_Hz: number,
  onset: number,
  waterEnd: number,
  shot: ShotSetup,
): Closure {
  const { flow_m3_s, jetArea_m2, gone_kg } = outflow;
  const rho = shot.waterDensity_kg_m3;
  let jetEnergy_J = 0;
  for (let i = onset; i < waterEnd; i++)
    jetEnergy_J += (rho * flow_m3_s[i]! ** 3) / (2 * jetArea_m2 ** 2) / rate_Hz;

  const section_m2 = shot.headOfWater
    ? (Math.PI / 4) * shot.bottleDiameter_m! ** 2
    : Number.POSITIVE_INFINITY;
  const neck_m = shot.neckLength_m ?? 0;
  const air0_m3 = shot.bottleVolume_m3 - shot.water_kg / rho;
  const design: number[] = [];
  const observed: number[] = [];
  const span = waterEnd - onset;
  for (let i = Math.ceil(onset + usedFrom * span); i < onset + usedTo * span; i++) {
    const q = flow_m3_s[i]!;
    const left_m3 = (shot.water_kg - gone_kg[i]!) / rho;
    const height_m = left_m3 / section_m2;
    const rate = ((flow_m3_s[i + 1]! - flow_m3_s[i - 1]!) / 2) * rate_Hz;
    const inertia = height_m / section_m2 + neck_m / ((Math.PI / 4) * shot.neckDiameter_m ** 2);
    const gauge_Pa =
      rho * inertia * rate +
      (rho / 2) *
        (q / jetArea_m2) ** 2 *
        (1 / shot.velocityCoefficient ** 2 - (jetArea_m2 / section_m2) ** 2) -
      rho * shot.gravity_m_s2 * (height_m + neck_m);
    const pressure_Pa = shot.ambientPressure_Pa + gauge_Pa;
    if (!(pressure_Pa > 0)) continue;
    design.push(1, -Math.log((air0_m3 + gone_kg[i]! / rho) / air0_m3));
    observed.push(Math.log(pressure_Pa));
  }
  if (observed.length < leastSamples) return { jetEnergy_J };
  const fit = leastSquares(Float64Array.from(design), Float64Array.from(observed), 2);
  const exponent = fit.parameters[1]!;
  return fit.determined && exponent > 0.8 && exponent < 1.7
    ? { jetEnergy_J, polytropicExponent: exponent }
    : { jetEnergy_J };
}
