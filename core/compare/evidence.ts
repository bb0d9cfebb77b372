import type { ShotSetup } from "../exchange/setup-shot.ts";
import { performanceOf } from "../propulsion/performance.ts";
import { type InputUncertainties, predictionBudget } from "../propulsion/prediction-budget.ts";
import { shotOf } from "../propulsion/shot.ts";
import { failed, issue, ok, type Result } from "../result.ts";

export type ObservedQuantity = "impulse_Ns" | "waterDuration_s" | "jetArea_m2" | "jetEnergy_J";

export type Observation = {
  readonly quantity: ObservedQuantity;
  readonly measured: number;
  /** k = 1, of the measurement; above 0. */
  readonly u: number;
};

export type Difference = {
  readonly quantity: ObservedQuantity;
  readonly measured: number;
  readonly predicted: number;
  readonly difference: number;
  /** Of the measurement and of the prediction's inputs together. */
  readonly u: number;
  /** |difference|/u: above 2 it is hardly chance. */
  readonly inU: number;
};

export type Cause = keyof InputUncertainties | "sensitivity" | "zero_N";

export type CauseEvidence = {
  readonly cause: Cause;
  readonly u: number;
  /** Change of this one input, within reason of its u, that brings prediction and record closest. */
  readonly change: number;
  readonly changeInU: number;
  /** Part of the misfit that goes with it, 0 to 1, the improbability of the change paid for. */
  readonly explains: number;
  /** Change that would explain the impulse alone; null where the impulse does not depend on it. */
  readonly neededForImpulse: number | null;
};

export type Evidence = {
  /** Largest in u first. */
  readonly differences: readonly Difference[];
  /** What explains most first. Several may explain as much: the record cannot tell these apart. */
  readonly causes: readonly CauseEvidence[];
};

export type EvidenceOptions = {
  readonly uncertainties?: Partial<InputUncertainties>;
  /** Relative, k = 1, common to the channels. */
  readonly sensitivityRelU: number;
  readonly zeroU_N: number;
};

/**
 * Where record and prediction differ, and how much of it each single input could account for if it
 * were off by a reasonable amount. Evidence in order of size, never a verdict: two causes may act
 * at once, and what the model leaves out is not on the list.
 *
 * With differences d, their u, sensitivities s and the input's own u_x, the change a that makes
 * Σ ((d - s a)/u)² + (a/u_x)² least is a = Σ(d s/u²) / (Σ(s²/u²) + 1/u_x²).
 * @fails list-empty, u-not-positive, value-not-finite
 * @source docs/model.md#evidence
 */
export function gatherEvidence(
  setup: ShotSetup,
  observations: readonly Observation[],
  options: EvidenceOptions,
): Result<Evidence> {
  const issues = checkObservations(observations);
  if (issues.length > 0) return failed(...issues);
  const predicted = quantitiesOf(setup);
  const effects = [...inputEffects(setup, options.uncertainties ?? {}), ...recordEffects(predicted, options)];
  const differences = observations.map(({ quantity, measured, u }): Difference => {
    const difference = measured - predicted[quantity];
    const squares = effects.reduce((sum, effect) => sum + (effect.slope[quantity] * effect.u) ** 2, u * u);
    const combined = Math.sqrt(squares);
    return {
      quantity,
      measured,
      predicted: predicted[quantity],
      difference,
      u: combined,
      inU: Math.abs(difference) / combined,
    };
  });
  const causes = effects.map((effect) => explain(effect, observations, predicted));
  return ok({
    differences: differences.sort((a, b) => b.inU - a.inU),
    causes: causes.sort((a, b) => b.explains - a.explains),
  });
}

type Quantities = Readonly<Record<ObservedQuantity, number>>;
type Effect = { readonly cause: Cause; readonly u: number; readonly slope: Quantities };

function quantitiesOf(setup: ShotSetup): Quantities {
  const shot = shotOf(setup);
  const { water, impulse_Ns } = performanceOf(shot);
  return {
    impulse_Ns,
    waterDuration_s: water.duration_s,
    jetArea_m2: shot.jetArea_m2,
    jetEnergy_J: water.jetEnergy_J,
  };
}

function inputEffects(setup: ShotSetup, uncertainties: Partial<InputUncertainties>): readonly Effect[] {
  return predictionBudget(setup, uncertainties).rows.map(({ quantity, value, u }): Effect => {
    const step = 1e-4 * value || 1e-6;
    const above = quantitiesOf({ ...setup, [quantity]: value + step });
    const below = quantitiesOf({ ...setup, [quantity]: value - step });
    return { cause: quantity, u, slope: mapQuantities((key) => (above[key] - below[key]) / (2 * step)) };
  });
}

/** Errors of the record: a gain scales force, and the area that closes the mass goes as 1/force, energy as force². */
function recordEffects(predicted: Quantities, options: EvidenceOptions): readonly Effect[] {
  const { impulse_Ns, waterDuration_s, jetArea_m2, jetEnergy_J } = predicted;
  return [
    {
      cause: "sensitivity",
      u: options.sensitivityRelU,
      slope: { impulse_Ns, waterDuration_s: 0, jetArea_m2: -jetArea_m2, jetEnergy_J: 2 * jetEnergy_J },
    },
    {
      cause: "zero_N",
      u: options.zeroU_N,
      slope: { impulse_Ns: waterDuration_s, waterDuration_s: 0, jetArea_m2: 0, jetEnergy_J: 0 },
    },
  ];
}

function explain(effect: Effect, observations: readonly Observation[], predicted: Quantities): CauseEvidence {
  let misfit = 0;
  let along = 0;
  let stiffness = effect.u > 0 ? 1 / effect.u ** 2 : Infinity;
  for (const { quantity, measured, u } of observations) {
    const difference = measured - predicted[quantity];
    const slope = effect.slope[quantity];
    misfit += (difference / u) ** 2;
    along += (difference * slope) / (u * u);
    stiffness += (slope / u) ** 2;
  }
  const change = along / stiffness;
  const impulse = observations.find(({ quantity }) => quantity === "impulse_Ns");
  const needed = impulse && (impulse.measured - predicted.impulse_Ns) / effect.slope.impulse_Ns;
  return {
    cause: effect.cause,
    u: effect.u,
    change,
    changeInU: effect.u > 0 ? change / effect.u : 0,
    explains: misfit > 0 ? (along * change) / misfit : 0,
    neededForImpulse: needed !== undefined && Number.isFinite(needed) ? needed : null,
  };
}

const mapQuantities = (f: (key: ObservedQuantity) => number): Quantities => ({
  impulse_Ns: f("impulse_Ns"),
  waterDuration_s: f("waterDuration_s"),
  jetArea_m2: f("jetArea_m2"),
  jetEnergy_J: f("jetEnergy_J"),
});

function checkObservations(observations: readonly Observation[]) {
  if (observations.length === 0) {
    return [issue("list-empty", "observations", "nothing was measured", "reduce the record first")];
  }
  return observations.flatMap(({ quantity, measured, u }) => [
    ...(Number.isFinite(measured)
      ? []
      : [
          issue(
            "value-not-finite",
            quantity,
            `found ${measured}`,
            "leave it out, or reduce the record again",
          ),
        ]),
    ...(u > 0
      ? []
      : [issue("u-not-positive", quantity, `its u is ${u}`, "give the uncertainty of the measurement")]),
  ]);
}
