import { parseSetup } from "../exchange/setup.ts";
import type { Assumed } from "../exchange/setup-fields.ts";
import type { ShotSetup } from "../exchange/setup-shot.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import type { Rig } from "../rig/rig.ts";

/** What the day and the plan decide; the rig supplies the rest. Absent: assumed, and said. */
export type Conditions = {
  readonly water_kg: number;
  /** Gauge. */
  readonly setPressure_Pa: number;
  readonly ambientPressure_Pa?: number;
  readonly waterTemperature_C?: number;
  readonly airTemperature_C?: number;
  /** This stand's own fit, once there is one. */
  readonly polytropicExponent?: number;
  readonly velocityCoefficient?: number;
  readonly contraction?: number;
};

/**
 * The shot that a rig makes of a fill and a pressure, ready for `predict`.
 * @returns the setup, and every default that filled a gap
 * @fails pressure-above-limit, and whatever a setup is refused for
 */
export function rigShot(rig: Rig, conditions: Conditions): Result<{ setup: ShotSetup; assumed: Assumed }> {
  const parsed = parseSetup(
    {
      bottleVolume_m3: rig.bottle.capacity_m3,
      ...(rig.bottle.diameter_m !== undefined && { bottleDiameter_m: rig.bottle.diameter_m }),
      openingDiameter_m: rig.opening.diameter_m,
      ...(rig.opening.neckLength_m !== undefined && { neckLength_m: rig.opening.neckLength_m }),
      ridingMass_kg: rig.ridingMass_kg,
      ...conditions,
    },
    "predict",
  );
  const issues = parsed.ok ? [] : [...parsed.issues];
  if (conditions.setPressure_Pa > rig.bottle.limit_Pa) {
    issues.push(
      issue(
        "pressure-above-limit",
        "setPressure_Pa",
        `${conditions.setPressure_Pa} Pa is above this bottle's limit of ${rig.bottle.limit_Pa} Pa`,
        "plan at or below the limit; the limit is the rig owner's to change",
      ),
    );
  }
  return parsed.ok && issues.length === 0 ? ok(parsed.value) : failed(...issues);
}
