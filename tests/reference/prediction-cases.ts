import { parseSetup } from "../../core/exchange/setup.ts";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { type Prediction, predict } from "../../core/propulsion/prediction.ts";

/** PHYSICS.md section 11: the shot that its tables are made for. */
export const nominal = {
  water_kg: 0.7,
  setPressure_Pa: 3e5,
  bottleVolume_m3: 0.0015,
  openingDiameter_m: 0.0217,
  bottleDiameter_m: 0.088,
} as const;

export function setupOf(json: Record<string, unknown>): ShotSetup {
  const result = parseSetup(json, "predict");
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value.setup;
}

export function predictionOf(json: Record<string, unknown>): Prediction {
  const result = predict(setupOf(json));
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
}

/** Largest relative difference that a check allows, said where it is used. */
export const relative = (found: number, expected: number) => Math.abs(found / expected - 1);
