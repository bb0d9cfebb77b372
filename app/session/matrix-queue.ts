import { documentsForShot, type Shot } from "../../core/plan/documents-for-shot.ts";
import { doneRun } from "../../core/plan/done-run.ts";
import { matrixName, type PlannedMatrix, readMatrixText } from "../../core/plan/matrix-file.ts";
import { type DoneRun, matrixProgress, type Slot } from "../../core/plan/test-matrix.ts";
import { rigNumberWords, type WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { FileStore, Preferences, RunStore } from "../ports.ts";

/** The test matrix that this device goes by, for each stand, and what is still to run of it. */

export type MatrixPorts = {
  readonly files: FileStore;
  readonly runs: Pick<RunStore, "list" | "read">;
  readonly preferences: Preferences;
};

export type KeptMatrix = PlannedMatrix & { readonly text: string };

/** Two files of the same bytes are one: which was kept last is a choice of its own. */
const inForceKey = (rig: string): string => `matrix.${rig}`;

const textOf = (bytes: ArrayBuffer): string => new TextDecoder().decode(bytes);

/**
 * @returns undefined where none was kept
 * @fails what the store says; whatever `readMatrixText` refuses
 */
export async function keptMatrix(
  { files, preferences }: Pick<MatrixPorts, "files" | "preferences">,
  rig: string,
): Promise<Result<KeptMatrix | undefined>> {
  const list = await files.list();
  if (!list.ok) return list;
  const ours = list.value.filter(({ name }) => name === matrixName(rig)).toSorted((a, b) => b.at - a.at);
  const chosen = preferences.read(inForceKey(rig));
  const wanted = ours.find(({ digest }) => digest === chosen) ?? ours[0];
  if (!wanted) return ok(undefined);
  const file = await files.get(wanted.digest);
  if (!file.ok) return file;
  const text = textOf(file.value.bytes);
  const read = readMatrixText(text);
  return read.ok ? ok({ ...read.value, text }) : read;
}

/**
 * From now on this stand goes by this matrix; earlier ones stay in the store.
 * @fails whatever `readMatrixText` refuses, what the store says; matrix-other-stand
 */
export async function keepMatrix(
  { files, preferences }: Pick<MatrixPorts, "files" | "preferences">,
  kept: { readonly text: string; readonly at: number; readonly rigs: readonly Rig[] },
): Promise<Result<PlannedMatrix>> {
  const { text, at, rigs } = kept;
  const read = readMatrixText(text);
  if (!read.ok) return read;
  const { rig } = read.value;
  if (!rigs.some(({ id }) => id === rig)) {
    const detail = `it is planned for the stand "${rig}", which this device does not know`;
    const known = rigs.map(({ id }) => id).join(", ");
    return failed(issue("matrix-other-stand", "rig", detail, `Plan it for one of: ${known}.`));
  }
  const bytes = new TextEncoder().encode(text).buffer;
  const put = await files.put({ name: matrixName(rig), kind: "result", at, bytes });
  if (!put.ok) return put;
  preferences.write(inForceKey(rig), put.value);
  return read;
}

/** Runs of this stand that count in a matrix. */
export async function doneRuns(runs: MatrixPorts["runs"], rig: string): Promise<Result<readonly DoneRun[]>> {
  const list = await runs.list();
  if (!list.ok) return list;
  const stored = await Promise.all(list.value.map(({ log }) => runs.read(log)));
  // A run that cannot be read is named where runs are listed; what it was cannot be counted.
  const own = stored.flatMap((run) => (run.ok && run.value.documents.rig.id === rig ? [run.value] : []));
  return ok(own.flatMap((run) => doneRun({ ...run, ...run.documents }) ?? []));
}

export const matrixTolerance = ({ fill, pressure }: Rig) => ({
  water_kg: fill.tolerance_kg,
  setPressure_Pa: pressure.tolerance_Pa,
});

export type QueuedShot = Slot & {
  /** In the units of the stand's own instruments. */
  readonly water: string;
  readonly pressure: string;
  /** Why no run can be started for it; empty where one can. */
  readonly refusal: readonly Issue[];
};

export type MatrixQueue = {
  readonly synthetic: boolean;
  readonly shots: number;
  readonly done: number;
  readonly blocks: number;
  /** In the order of the plan. */
  readonly toRun: readonly QueuedShot[];
  /** Codes of runs at other levels, or one too many. */
  readonly beside: readonly string[];
};

/**
 * What this stand has still to run.
 * @returns undefined where no matrix is kept for it
 * @fails what the stores say, and a kept matrix that cannot be read
 */
export async function matrixQueue(
  ports: MatrixPorts,
  { rig, written }: WrittenDocuments,
): Promise<Result<MatrixQueue | undefined>> {
  const [kept, runs] = await Promise.all([keptMatrix(ports, rig.id), doneRuns(ports.runs, rig.id)]);
  if (!kept.ok || !runs.ok) return failed(...(kept.ok ? [] : kept.issues), ...(runs.ok ? [] : runs.issues));
  if (!kept.value) return ok(undefined);
  const { matrix, synthetic } = kept.value;
  const { toRun, done, beside } = matrixProgress(matrix, runs.value, matrixTolerance(rig));
  const told = new Map<string, Omit<QueuedShot, keyof Slot>>();
  const tellOnce = (slot: Slot) => {
    const level = `${slot.water_kg} ${slot.setPressure_Pa}`;
    const known = told.get(level) ?? tell(rig, written, slot);
    told.set(level, known);
    return { ...slot, ...known };
  };
  return ok({
    synthetic,
    shots: matrix.slots.length,
    done: done.length,
    blocks: matrix.plan.replicates,
    toRun: toRun.map(tellOnce),
    beside: beside.map(({ code }) => code),
  });
}

function tell(
  rig: Rig,
  written: WrittenDocuments["written"],
  { water_kg, setPressure_Pa }: Shot,
): Omit<QueuedShot, keyof Slot> {
  const planned = {
    ...rig,
    fill: { ...rig.fill, water_kg },
    pressure: { ...rig.pressure, set_Pa: setPressure_Pa },
  };
  const made = documentsForShot(rig, written, { water_kg, setPressure_Pa });
  return {
    water: rigNumberWords(written, planned, "water"),
    pressure: rigNumberWords(written, planned, "pressure"),
    refusal: made.ok ? [] : made.issues,
  };
}
