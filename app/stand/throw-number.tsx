import type { Throw } from "../../core/propulsion/throw.ts";
import { shortNumber } from "../../core/units/value-text.ts";

/** The rig's own numbers for what the restraints are for: what to expect, and the bound to keep away by. */
export function ThrowNumber({ estimate }: { readonly estimate: Throw | undefined }) {
  if (!estimate) return null;
  const { speed_m_s, height_m, heightBound_m, rangeBound_m } = estimate;
  const two = (value: number): string => shortNumber(value, 2);
  return (
    <p class="throw">
      If nothing holds: about <b>{two(speed_m_s)} m/s</b>, <b>{two(height_m)} m</b> up or {two(2 * height_m)}{" "}
      m away. Bound: {two(heightBound_m)} m up, {two(rangeBound_m)} m away. No drag.
    </p>
  );
}
