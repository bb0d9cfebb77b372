import type { ShotSetup } from "../exchange/setup-shot.ts";
import { airPhase } from "./air-phase.ts";
import { expansionOf } from "./expansion.ts";
import { gaussLegendre } from "./gauss-legendre.ts";
import { polytropicPrior } from "./polytropic-prior.ts";
import { type Shot, shotOf } from "./shot.ts";
import { waterImpulse_Ns } from "./water-phase.ts";

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
 * Uncertainty of the predicted impulse, by the law of propagation, sensitivities by central
 * differences. It covers the inputs, not what the model leaves out (docs/model.md#validity).
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
  // One copy, changed and put back: this runs for every point of a map.
  const trial = { ...setup, polytropicExponent: given ?? prior.mean };
  const rows: BudgetRow[] = [];
  for (const quantity of inputs) {
    const value = trial[quantity];
    const step = stepFor(quantity, trial);
    const below = Math.max(value - step, 0);
    trial[quantity] = value + step;
    const above_Ns = totalImpulse_Ns(shotOf(trial));
    trial[quantity] = below;
    const below_Ns = totalImpulse_Ns(shotOf(trial));
    trial[quantity] = value;
    const sensitivity = (above_Ns - below_Ns) / (value + step - below);
    const contribution_Ns = Math.abs(sensitivity) * u[quantity];
    rows.push({ quantity, value, u: u[quantity], sensitivity, contribution_Ns });
  }
  rows.sort((a, b) => b.contribution_Ns - a.contribution_Ns);
  return {
    impulse_Ns: totalImpulse_Ns(shotOf(setup)),
    u_impulse_Ns: Math.sqrt(rows.reduce((sum, row) => sum + row.contribution_Ns ** 2, 0)),
    rows,
  };
}

/** Small beside the value, and beside what would empty the bottle of air. */
function stepFor(quantity: Input, setup: ShotSetup & Readonly<Record<Input, number>>): number {
  const air_m3 = setup.bottleVolume_m3 - setup.water_kg / setup.waterDensity_kg_m3;
  const relative = 1e-3;
  if (quantity === "bottleVolume_m3") return relative * air_m3;
  if (quantity === "water_kg") {
    const room_kg = air_m3 * setup.waterDensity_kg_m3;
    return relative * (setup.water_kg > 0 ? Math.min(setup.water_kg, room_kg) : room_kg);
  }
  return relative * setup[quantity];
}

/** Short of the full rule, still good to 1e-7, and its own error falls out of the differences. */
const shortRule = gaussLegendre(8);

function totalImpulse_Ns(shot: Shot): number {
  const expansion = expansionOf(shot);
  const water_Ns = waterImpulse_Ns(shot, expansion, shortRule);
  if (!expansion.emptied) return water_Ns;
  const x = expansion.logVolumeRatio;
  const end_Pa = shot.start_Pa * Math.exp(-shot.exponent * x);
  const end_K = shot.airTemperature_K * Math.exp(-(shot.exponent - 1) * x);
  return water_Ns + airPhase(shot, end_Pa, end_K).impulse_Ns;
}
