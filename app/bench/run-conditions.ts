import { replay } from "../../core/record/replay.ts";
import { type RunConditions, runConditions } from "../../core/record/run-conditions.ts";
import type { Issue } from "../../core/result.ts";
import { createSequence } from "../../core/sequence/advance.ts";
import type { StoredRun } from "../ports.ts";

/** A run on the desk: what its log says of its shot, and whether the sequence agrees with the log. */
export type DeskRun = Omit<RunConditions, "setPressure_Pa" | "waterTemperature_C"> & {
  readonly log: string;
  readonly code: string;
  readonly rigName: string;
  readonly synthetic: boolean;
  readonly set_Pa: number | undefined;
  readonly water_C: number | undefined;
  /** What the log says and the sequence would have refused: shown, never repaired. */
  readonly doubts: readonly Issue[];
  readonly stored: StoredRun;
};

export function deskRun(stored: StoredRun): DeskRun {
  const { log, code, documents, entries } = stored;
  const { rig, procedure } = documents;
  const { setPressure_Pa, waterTemperature_C, ...conditions } = runConditions({ ...documents, entries });
  const state = replay(createSequence(rig, procedure), entries);
  return {
    ...conditions,
    log,
    code,
    rigName: rig.name,
    synthetic: rig.synthetic || procedure.synthetic,
    set_Pa: setPressure_Pa,
    water_C: waterTemperature_C,
    doubts: state.ok ? [] : state.issues,
    stored,
  };
}
