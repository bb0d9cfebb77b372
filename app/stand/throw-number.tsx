import type { Throw } from "../../core/propulsion/throw.ts";

/** The rig's own number for what the restraints are for: an estimate, said as one. */
export function ThrowNumber({ estimate }: { readonly estimate: Throw | undefined }) {
  if (!estimate) return null;
  return (
    <p class="throw">
      If nothing holds, it leaves at about <b>{Math.round(estimate.speed_m_s)} m/s</b> and rises about{" "}
      <b>{Math.round(estimate.height_m)} m</b>. Estimate, no drag.
    </p>
  );
}
