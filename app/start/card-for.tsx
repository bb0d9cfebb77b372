import type { ComponentType } from "preact";
import { documentsForShot } from "../../core/plan/documents-for-shot.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { Notice } from "./notice.tsx";
import { PrintCard } from "./print-card.tsx";

/**
 * The paper card that an address asks for: a stand, and for a planned shot its water in kg and its
 * pressure in Pa. What cannot be run is not printed either.
 */
export const cardFor = (
  stands: readonly WrittenDocuments[],
  [id, water, pressure]: readonly (string | undefined)[],
  home: string,
): ComponentType => {
  const stand = stands.find(({ rig }) => rig.id === id);
  // Never another stand's card instead.
  if (!stand)
    return () => (
      <main class="start">
        <h1>No card</h1>
        <p>This device knows no stand “{id}”. Bring it in on the page Stands.</p>
        <a href={home}>Start</a>
      </main>
    );
  const { rig, written } = stand;
  const made = documentsForShot(rig, written, {
    water_kg: water === undefined ? rig.fill.water_kg : Number(water),
    setPressure_Pa: pressure === undefined ? rig.pressure.set_Pa : Number(pressure),
  });
  if (made.ok) return () => <PrintCard documents={made.value} home={home} />;
  const { issues } = made;
  return () => (
    <main class="start">
      <h1>No card for this shot</h1>
      <Notice issues={issues} />
      <a href={home}>Start</a>
    </main>
  );
};
