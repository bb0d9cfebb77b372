import { documentsForShot } from "../../../core/plan/documents-for-shot.ts";
import type { Documents } from "../documents.ts";
import { WRITTEN_HERON } from "../written.ts";

export type Cell = { readonly water_kg: number; readonly set_Pa: number };

/** Heron and its procedure for one cell of the test matrix, as the start page makes them for a planned shot. */
export function documentsOf({ water_kg, set_Pa }: Cell): Documents {
  const { rig, written } = WRITTEN_HERON;
  const made = documentsForShot(rig, written, { water_kg, setPressure_Pa: set_Pa });
  if (!made.ok) throw new Error(made.issues.map(({ detail }) => detail).join("; "));
  return made.value;
}
