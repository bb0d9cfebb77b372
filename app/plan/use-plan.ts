import { useEffect, useMemo, useState } from "preact/hooks";
import { doneRun } from "../../core/plan/done-run.ts";
import { matrixText, readMatrixText } from "../../core/plan/matrix-file.ts";
import { type DoneRun, testMatrix } from "../../core/plan/test-matrix.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { FileStore, Preferences, RunStore, Transfer } from "../ports.ts";
import { readUnitChoice, type UnitChoice, type UnitKind, unitChoiceText } from "../widgets/unit-choice.ts";
import { draftOf, type MatrixDraft, readDraft, type Scales } from "./matrix-draft.ts";

/** What the plan needs of the world. */
export type PlanPorts = {
  readonly rigs: readonly Rig[];
  readonly runs: Pick<RunStore, "list" | "read">;
  readonly files: FileStore;
  readonly transfer: Pick<Transfer, "save">;
  readonly preferences: Preferences;
};

const unitsKey = "units";

export function useUnits(preferences: Preferences): [UnitChoice, (kind: UnitKind, symbol: string) => void] {
  const [units, setUnits] = useState(() => readUnitChoice(preferences.read(unitsKey)));
  const setUnit = (kind: UnitKind, symbol: string) => {
    const chosen = { ...units, [kind]: symbol };
    setUnits(chosen);
    preferences.write(unitsKey, unitChoiceText(chosen));
  };
  return [units, setUnit];
}

/** Long enough for a finger on a slider to pause, short enough not to be waited for. */
const settle_ms = 150;

/** The value once it has stopped changing: while a slider moves only the map follows. */
export function useSettled<T>(value: T): T {
  const [settled, setSettled] = useState(value);
  const key = JSON.stringify(value);
  // The same value made anew is no change.
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), settle_ms);
    return () => clearTimeout(timer);
  }, [key]);
  return settled;
}

/** Runs of this stand whose water and pressure are known; drills are not among them. */
export function useDoneRuns({ runs }: PlanPorts, rig: string): readonly DoneRun[] {
  const [done, setDone] = useState<readonly DoneRun[]>([]);
  useEffect(() => {
    let wanted = true;
    const load = async () => {
      const list = await runs.list();
      if (!list.ok) return;
      const stored = await Promise.all(list.value.map(({ log }) => runs.read(log)));
      const found = stored.flatMap((run) =>
        run.ok && run.value.documents.rig.id === rig
          ? [doneRun({ ...run.value, ...run.value.documents })]
          : [],
      );
      if (wanted) setDone(found.filter((run) => run !== undefined));
    };
    void load();
    return () => {
      wanted = false;
    };
  }, [runs, rig]);
  return done;
}

const crewsAtFirst = "A B C D";

/** The matrix in the form, and the last one that was kept for this stand. */
export function useMatrix(files: FileStore, rig: Rig, scales: Scales) {
  const [draft, setDraft] = useState<MatrixDraft>(() => firstDraft(rig, scales));
  const [kept, setKept] = useState<{ text: string; synthetic: boolean }>();
  // Another unit rewrites the form by itself below.
  useEffect(() => {
    let wanted = true;
    setDraft(firstDraft(rig, scales));
    setKept(undefined);
    void lastKept(files, rig.id).then((found) => {
      if (!wanted || !found) return;
      setDraft(draftOf(found.matrix.plan, scales));
      setKept({ text: found.text, synthetic: found.synthetic });
    });
    return () => {
      wanted = false;
    };
  }, [files, rig]);
  useRescaled(draft, setDraft, scales);

  const read = readDraft(draft, scales);
  const planKey = read.ok ? JSON.stringify(read.value) : "";
  // The same plan made anew is no change.
  const drawn = useMemo(() => (read.ok ? testMatrix(read.value) : read), [planKey]);
  const text = read.ok ? matrixText(rig.id, read.value, kept?.synthetic ?? rig.synthetic) : "";
  return {
    draft,
    matrix: drawn.ok ? drawn.value : undefined,
    issues: read.ok ? (drawn.ok ? [] : drawn.issues) : read.issues,
    saved: kept?.text === text,
    synthetic: kept?.synthetic ?? rig.synthetic,
    onDraft: setDraft,
    onDraw: () => setDraft({ ...draft, seed: crypto.getRandomValues(new Uint16Array(1))[0]! }),
    onSave: () => {
      const bytes = new TextEncoder().encode(text).buffer;
      void files
        .put({ name: matrixName(rig.id), kind: "result", at: Date.now(), bytes })
        .then((put) => put.ok && setKept({ text, synthetic: rig.synthetic }));
    },
  };
}

/** When the reader changes a unit the levels stay the same quantities. */
function useRescaled(draft: MatrixDraft, setDraft: (draft: MatrixDraft) => void, scales: Scales) {
  const [used, setUsed] = useState(scales);
  useEffect(() => {
    if (used.water === scales.water && used.pressure === scales.pressure) return;
    const read = readDraft(draft, used);
    if (read.ok) setDraft(draftOf(read.value, scales));
    setUsed(scales);
  }, [used, scales, draft, setDraft]);
}

const matrixName = (rig: string) => `matrix-${rig}.json`;

async function lastKept(files: FileStore, rig: string) {
  const list = await files.list();
  if (!list.ok) return undefined;
  const [newest] = list.value.filter(({ name }) => name === matrixName(rig)).sort((a, b) => b.at - a.at);
  const file = newest && (await files.get(newest.digest));
  if (!file?.ok) return undefined;
  const text = new TextDecoder().decode(file.value.bytes);
  const read = readMatrixText(text);
  return read.ok ? { ...read.value, text } : undefined;
}

/** Around the rig's own fill and pressure: something to change, not something to take over. */
function firstDraft(rig: Rig, scales: Scales): MatrixDraft {
  const { water_kg } = rig.fill;
  const set_Pa = Math.min(rig.pressure.set_Pa, rig.bottle.limit_Pa);
  const levels = [0.75, 1, 1.25].map((part) => Number((water_kg * part).toPrecision(2)));
  return draftOf(
    {
      water_kg: levels,
      setPressure_Pa: [Number((set_Pa * 0.83).toPrecision(2)), set_Pa],
      replicates: 4,
      crews: crewsAtFirst.split(" "),
      seed: 1,
    },
    scales,
  );
}
