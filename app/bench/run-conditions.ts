import { findStep } from "../../core/procedure/procedure.ts";
import { readingValue } from "../../core/record/reading-value.ts";
import { replay } from "../../core/record/replay.ts";
import type { Issue } from "../../core/result.ts";
import { createSequence } from "../../core/sequence/advance.ts";
import type { StoredRun } from "../ports.ts";

/** What a run's log says about its shot, and how it ended: what the bench shows and reduces by. */
export type DeskRun = {
  readonly log: string;
  readonly code: string;
  readonly rigName: string;
  readonly synthetic: boolean;
  readonly drill: boolean;
  readonly openedAt_ms: number;
  /** Undefined where nobody saw it go. */
  readonly released_ms: number | undefined;
  readonly crew: string | undefined;
  readonly water_kg: number | undefined;
  readonly set_Pa: number | undefined;
  readonly water_C: number | undefined;
  readonly supply_Pa: number | undefined;
  readonly notes: readonly string[];
  /** What the log says and the sequence would have refused: shown, never repaired. */
  readonly doubts: readonly Issue[];
  readonly stored: StoredRun;
};

export function deskRun(stored: StoredRun): DeskRun {
  const { log, code, documents, entries } = stored;
  const { rig, procedure } = documents;
  const found: { water_kg?: number; set_Pa?: number; water_C?: number; supply_Pa?: number } = {};
  let released_ms: number | undefined;
  let conductor: string | undefined;
  const notes: string[] = [];
  for (const { event, at } of entries) {
    if (event.type === "released") released_ms ??= at;
    if (event.type === "noted") notes.push(event.text);
    if (event.type === "signed-on" && event.role === "conductor") conductor ??= event.person;
    // What was read after the release is not what the shot went by.
    if (event.type !== "step-done" || event.reading === undefined || released_ms !== undefined) continue;
    const step = findStep(procedure, event.step)?.step;
    if (step?.form.kind !== "measure") continue;
    const value = readingValue(event.reading, step.form.quantity);
    if (!value.ok) continue;
    if (step.proves.includes("water-measured")) found.water_kg = value.value;
    if (step.proves.includes("at-pressure")) found.set_Pa = value.value;
    if (step.form.quantity === "temperature") found.water_C = value.value;
    if (step.form.instrument === rig.supply.gauge) found.supply_Pa = value.value;
  }
  const opened = entries[0]?.event;
  return {
    log,
    code,
    rigName: rig.name,
    synthetic: rig.synthetic || procedure.synthetic,
    drill: opened?.type === "opened" && opened.drill,
    openedAt_ms: entries[0]?.at ?? 0,
    released_ms,
    crew: conductor && crewOf(conductor),
    water_kg: found.water_kg,
    set_Pa: found.set_Pa,
    water_C: found.water_C,
    supply_Pa: found.supply_Pa,
    notes,
    doubts: doubtsOf(stored),
    stored,
  };
}

function doubtsOf({ documents: { rig, procedure }, entries }: StoredRun): readonly Issue[] {
  const state = replay(createSequence(rig, procedure), entries);
  return state.ok ? [] : state.issues;
}

/** People's codes begin with their crew's letter; a code without a number is a crew of its own. */
const crewOf = (person: string) => /^([A-Z]+)\d+$/.exec(person)?.[1] ?? person;

/**
 * The run's shot in the keys of S.json, without channels: what was weighed and read, and the rig for the rest. A key
 * that the log does not know is left out, so that reading it says what is missing or assumed.
 */
export function shotConditions({
  stored,
  water_kg,
  set_Pa,
  water_C,
}: DeskRun): Readonly<Record<string, unknown>> {
  const { bottle, opening, ridingMass_kg } = stored.documents.rig;
  return {
    ...(water_kg !== undefined && { water_kg }),
    ...(set_Pa !== undefined && { setPressure_Pa: set_Pa }),
    ...(water_C !== undefined && { waterTemperature_C: water_C }),
    bottleVolume_m3: bottle.capacity_m3,
    ...(bottle.diameter_m !== undefined && { bottleDiameter_m: bottle.diameter_m }),
    openingDiameter_m: opening.diameter_m,
    ...(opening.neckLength_m !== undefined && { neckLength_m: opening.neckLength_m }),
    ridingMass_kg,
  };
}
