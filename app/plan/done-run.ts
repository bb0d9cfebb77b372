import type { DoneRun } from "../../core/plan/test-matrix.ts";
import { findStep } from "../../core/procedure/procedure.ts";
import { readingValue } from "../../core/record/reading-value.ts";
import type { StoredRun } from "../ports.ts";

/**
 * What a stored run counts for in a matrix: what was weighed and read last before a release that was seen, and who
 * conducted. Undefined for a drill, or where either number or the release is missing.
 */
export function doneRun({ code, documents, entries }: StoredRun): DoneRun | undefined {
  let water_kg: number | undefined;
  let setPressure_Pa: number | undefined;
  let conductor: string | undefined;
  let released = false;
  for (const { event } of entries) {
    if (event.type === "opened" && event.drill) return undefined;
    if (event.type === "released") released = true;
    if (event.type === "signed-on" && event.role === "conductor") conductor ??= event.person;
    if (event.type !== "step-done" || event.reading === undefined || released) continue;
    const step = findStep(documents.procedure, event.step)?.step;
    if (step?.form.kind !== "measure") continue;
    const value = readingValue(event.reading, step.form.quantity);
    if (!value.ok) continue;
    if (step.proves.includes("water-measured")) water_kg = value.value;
    if (step.proves.includes("at-pressure")) setPressure_Pa = value.value;
  }
  if (!released || water_kg === undefined || setPressure_Pa === undefined || conductor === undefined)
    return undefined;
  return { code, crew: crewOf(conductor), water_kg, setPressure_Pa };
}

/** People's codes begin with their crew's letter; a code without a number is a crew of its own. */
const crewOf = (person: string) => /^([A-Z]+)\d+$/.exec(person)?.[1] ?? person;
