import { type LoggedRun, runConditions } from "../record/run-conditions.ts";
import type { DoneRun } from "./test-matrix.ts";

/** What a run counts for in a matrix. Undefined for a drill, and where a number, the crew or the release is missing. */
export const doneRun = (run: LoggedRun & { readonly code: string }): DoneRun | undefined => {
  const { drill, released_ms, crew, water_kg, setPressure_Pa } = runConditions(run);
  if (drill || released_ms === undefined) return undefined;
  if (crew === undefined || water_kg === undefined || setPressure_Pa === undefined) return undefined;
  return { code: run.code, crew, water_kg, setPressure_Pa };
};
