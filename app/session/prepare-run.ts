import { documentsForShot, type Shot } from "../../core/plan/documents-for-shot.ts";
import { canStart } from "../../core/procedure/lint/can-start.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { dayOfYear, nextRunCode } from "../../core/record/run-code.ts";
import { failed, ok, type Result } from "../../core/result.ts";
import type { RunStore } from "../ports.ts";
import type { NewRun } from "./live-run.ts";

export type AskedRun = WrittenDocuments &
  Pick<NewRun, "log" | "drill" | "software"> & {
    /** Left out: the rig's own water and set pressure. */
    readonly shot?: Shot | undefined;
    readonly today: Date;
    readonly phone: number;
  };

/**
 * A run that may be opened: its rig and procedure with the shot's numbers, found without fault, and a
 * code of its own. With the linter and the schemas in it, this is fetched when a run is started.
 * @fails what `documentsForShot` and `canStart` refuse, what the store says, what `nextRunCode` fails with
 */
export async function prepareRun(
  store: Pick<RunStore, "list">,
  { rig, written, shot, today, phone, log, drill, software }: AskedRun,
): Promise<Result<NewRun>> {
  const usual = { water_kg: rig.fill.water_kg, setPressure_Pa: rig.pressure.set_Pa };
  const [known, documents] = [await store.list(), documentsForShot(rig, written, shot ?? usual)];
  if (!known.ok || !documents.ok)
    return failed(...(known.ok ? [] : known.issues), ...(documents.ok ? [] : documents.issues));
  const may = canStart(documents.value.procedure, documents.value.rig, today.toISOString().slice(0, 10));
  if (!may.ok) return may;
  const day = dayOfYear({ year: today.getFullYear(), month: today.getMonth() + 1, day: today.getDate() });
  const codes = known.value.map((run) => run.code);
  const code = nextRunCode(rig.letter, day, phone, codes);
  if (!code.ok) return code;
  return ok({ documents: documents.value, code: code.value, log, drill, transcribed: false, software });
}
