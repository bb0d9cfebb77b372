import type { ComponentType } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { rigForShot } from "../../core/plan/documents-for-shot.ts";
import { matrixText } from "../../core/plan/matrix-file.ts";
import { type DoneRun, type MatrixPlan, type TestMatrix, testMatrix } from "../../core/plan/test-matrix.ts";
import { failed, type Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { Preferences, Transfer } from "../ports.ts";
import { doneRuns, keepMatrix, keptMatrix, type MatrixPorts } from "../session/matrix-queue.ts";
import { readUnitChoice, type UnitChoice, type UnitKind, unitChoiceText } from "../widgets/unit-choice.ts";
import { draftOf, type MatrixDraft, readDraft, type Scales } from "./matrix-draft.ts";

/** What the plan needs of the world. */
export type PlanPorts = MatrixPorts & {
  readonly rigs: readonly Rig[];
  readonly transfer: Pick<Transfer, "save">;
  /** Shows the plan's file for a phone's camera. */
  readonly ShowCode: ComponentType<{ readonly text: string; readonly onClose: () => void }>;
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
    void doneRuns(runs, rig).then((found) => wanted && found.ok && setDone(found.value));
    return () => {
      wanted = false;
    };
  }, [runs, rig]);
  return done;
}

const crewsAtFirst = "A B C D";

/** The matrix in the form, and the last one that was kept for this stand. */
export function useMatrix(ports: PlanPorts, rig: Rig, scales: Scales) {
  const { files } = ports;
  const [draft, setDraft] = useState<MatrixDraft>(() => firstDraft(rig, scales));
  const [kept, setKept] = useState<{ text: string; synthetic: boolean }>();
  // Another unit rewrites the form by itself below.
  useEffect(() => {
    let wanted = true;
    setDraft(firstDraft(rig, scales));
    setKept(undefined);
    void keptMatrix(ports, rig.id).then((found) => {
      if (!wanted || !found.ok || !found.value) return;
      setDraft(draftOf(found.value.matrix.plan, scales));
      setKept({ text: found.value.text, synthetic: found.value.synthetic });
    });
    return () => {
      wanted = false;
    };
  }, [files, rig]);
  useRescaled(draft, setDraft, scales);

  const read = readDraft(draft, scales);
  const planKey = read.ok ? JSON.stringify(read.value) : "";
  // The same plan made anew is no change.
  const drawn = useMemo(() => (read.ok ? drawnFor(rig, read.value) : read), [planKey, rig]);
  const text = read.ok ? matrixText(rig.id, read.value, kept?.synthetic ?? rig.synthetic) : "";
  return {
    draft,
    matrix: drawn.ok ? drawn.value : undefined,
    issues: read.ok ? (drawn.ok ? [] : drawn.issues) : read.issues,
    saved: kept?.text === text,
    synthetic: kept?.synthetic ?? rig.synthetic,
    onDraft: setDraft,
    onDraw: () => setDraft({ ...draft, seed: crypto.getRandomValues(new Uint16Array(1))[0]! }),
    text,
    onSave: () =>
      void keepMatrix(ports, { text, at: Date.now(), rigs: [rig] }).then(
        (put) => put.ok && setKept({ text, synthetic: rig.synthetic }),
      ),
  };
}

/**
 * The matrix, or why this stand would run no such shot: a level that the start page would refuse is
 * said where it is typed.
 */
function drawnFor(rig: Rig, plan: MatrixPlan): Result<TestMatrix> {
  const drawn = testMatrix(plan);
  if (!drawn.ok) return drawn;
  const { water_kg, set_Pa } = { ...rig.fill, ...rig.pressure };
  const refused = (key: "water_kg" | "setPressure_Pa") =>
    plan[key].flatMap((level, i) => {
      const made = rigForShot(rig, { water_kg, setPressure_Pa: set_Pa, [key]: level });
      return made.ok ? [] : made.issues.map((one) => ({ ...one, where: `${key}[${i}]` }));
    });
  const issues = [...refused("water_kg"), ...refused("setPressure_Pa")];
  return issues.length > 0 ? failed(...issues) : drawn;
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
