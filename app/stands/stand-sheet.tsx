import type { ComponentChildren } from "preact";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { StandNumbers } from "./stand-numbers.tsx";

type Props = {
  readonly stand: WrittenDocuments;
  /** What can be done with it. */
  readonly children: ComponentChildren;
};

/** One stand: its name and procedure at a glance, its numbers and its ground when they are asked for. */
export function StandSheet({ stand, children }: Props) {
  const { rig, written } = stand;
  return (
    <article class="stand-sheet" aria-label={rig.name}>
      <h3>
        {rig.name}
        {rig.synthetic && !rig.name.includes("SYNTHETIC") && " (SYNTHETIC)"}
      </h3>
      <p>
        {written.title}, revision {written.revision}.
        {!rig.service.in && ` Out of service: ${rig.service.tag}.`}
      </p>
      <div class="button-row no-print">{children}</div>
      <details>
        <summary>Its numbers and its ground</summary>
        <StandNumbers documents={stand} />
      </details>
    </article>
  );
}
