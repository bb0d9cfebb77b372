import type { ShotSetup } from "../exchange/setup-shot.ts";
import { expansionOf } from "./expansion.ts";
import { airSensitivities, type ImpulseSensitivities, waterSensitivities } from "./impulse-sensitivities.ts";
import { performanceOf } from "./performance.ts";
import { polytropicPrior } from "./polytropic-prior.ts";
import { shotOf } from "./shot.ts";
import { waterPhase } from "./water-phase.ts";

const inputs = [
  "polytropicExponent",
  "velocityCoefficient",
  "setPressure_Pa",
  "bottleVolume_m3",
  "water_kg",
  "ambientPressure_Pa",
  "contraction",
  "openingDiameter_m",
] as const;
type Input = (typeof inputs)[number];

export type InputUncertainties = Readonly<Record<Input, number>>;

export type BudgetRow = {
  readonly quantity: Input;
  readonly value: number;
  /** Standard uncertainty, in the quantity's own unit. */
  readonly u: number;
  /** ∂I/∂x, N·s for each unit of the quantity. */
  readonly sensitivity: number;
  /** |∂I/∂x| u(x) */
  readonly contribution_Ns: number;
};

export type PredictionBudget = {
  readonly impulse_Ns: number;
  /** k = 1, inputs taken as independent. */
  readonly u_impulse_Ns: number;
  /** Largest contribution first. */
  readonly rows: readonly BudgetRow[];
};

/**
 * What a careful crew leaves open, k = 1: half a psi on the gauge, 10 mL on the capacity, 5 g on
 * the fill, 0.1 mm on the opening, the weather. Rig owners put their own in their place.
 * Source: PHYSICS.md section 10; ambient and contraction are common practice, no source.
 */
export const usualUncertainties = {
  velocityCoefficient: 0.01,
  setPressure_Pa: 3447.4,
  bottleVolume_m3: 1e-5,
  water_kg: 0.005,
  ambientPressure_Pa: 1000,
  contraction: 0.02,
  openingDiameter_m: 1e-4,
} as const;
/** An exponent that was typed is somebody's fit or guess. PHYSICS.md section 10. */
const givenExponentU = 0.05;

/**
 * Uncertainty of the predicted impulse by the law of propagation. It covers the inputs, not what
 * the model leaves out (docs/model.md#validity).
 * @source JCGM 100:2008 (GUM) 5.1.2, 5.1.3; docs/model.md#uncertainty
 */
export function predictionBudget(
  setup: ShotSetup,
  uncertainties: Partial<InputUncertainties> = {},
): PredictionBudget {
  const prior = polytropicPrior(setup.airTemperature_C);
  const given = setup.polytropicExponent;
  const u: InputUncertainties = {
    polytropicExponent: given === undefined ? prior.u : givenExponentU,
    ...usualUncertainties,
    ...uncertainties,
  };
  const shot = shotOf(setup);
  const expansion = expansionOf(shot);
  const water = waterPhase(shot);
  const ofWater = waterSensitivities(shot, expansion, water.impulse_Ns);
  const ofAir = airSensitivities(shot, expansion, water);
  const row = (quantity: Input, value: number, sensitivity: number): BudgetRow => {
    const contribution_Ns = Math.abs(sensitivity) * u[quantity];
    return { quantity, value, u: u[quantity], sensitivity, contribution_Ns };
  };
  const both = (key: keyof ImpulseSensitivities) => ofWater[key] + ofAir[key];
  const rows = [
    row("polytropicExponent", shot.exponent, both("exponent")),
    row("velocityCoefficient", setup.velocityCoefficient, both("velocityCoefficient")),
    row("setPressure_Pa", setup.setPressure_Pa, both("gauge_Pa")),
    row("bottleVolume_m3", setup.bottleVolume_m3, both("bottleVolume_m3")),
    row("water_kg", setup.water_kg, both("water_kg")),
    row("ambientPressure_Pa", setup.ambientPressure_Pa, both("ambient_Pa")),
    row("contraction", setup.contraction, both("jetAreaRelative") / setup.contraction),
    row(
      "openingDiameter_m",
      setup.openingDiameter_m,
      (2 * both("jetAreaRelative")) / setup.openingDiameter_m,
    ),
  ].sort((a, b) => b.contribution_Ns - a.contribution_Ns);
  let variance = 0;
  for (const { contribution_Ns } of rows) variance += contribution_Ns * contribution_Ns;
  return { impulse_Ns: performanceOf(shot, water).impulse_Ns, u_impulse_Ns: Math.sqrt(variance), rows };
}
