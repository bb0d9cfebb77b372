import { matrixText } from "../../../core/plan/matrix-file.ts";
import type { Procedure } from "../../../core/procedure/procedure.ts";
import type { Entry } from "../../../core/record/entry.ts";
import type { Rig } from "../../../core/rig/rig.ts";
import { HERON } from "../documents.ts";
import { documentsOf } from "./term-documents.ts";
import { type TermRun, termMatrix, termPlan } from "./term-plan.ts";
import { recordText } from "./term-record.ts";
import { walkRun } from "./term-walk.ts";

/**
 * A SYNTHETIC term of 24 runs on the invented stand Heron: planned by a test matrix, run through the real
 * sequence, recorded by the physics with a stand that rings and sensors that droop. Nothing in it was measured.
 */
export type TermRunDone = {
  readonly plan: TermRun;
  readonly log: string;
  readonly documents: { readonly rig: Rig; readonly procedure: Procedure };
  readonly entries: readonly Entry[];
};

export type TermFile = {
  readonly name: string;
  readonly text: string;
  /** Codes of the runs that it truly holds, in order: for tests, never read by the bench. */
  readonly holds: readonly string[];
};

export function* termRuns(): Generator<TermRunDone> {
  for (const plan of termPlan()) {
    const documents = documentsOf(plan);
    const entries = walkRun(plan, documents);
    yield { plan, documents, entries, log: entries[0]!.log };
  }
}

/** Two runs that the recorder took in one go, and one whose code nobody typed in: the bench has to match them. */
const together = [13, 14] as const;
const nameless = 18;

export function* termFiles(): Generator<TermFile> {
  const plan = termPlan();
  for (const run of plan) {
    if (run.number === together[1]) continue;
    const runs = run.number === together[0] ? together.map((number) => plan[number]!) : [run];
    const codes = runs.map(({ code }) => code);
    const said = run.number === nameless ? [] : [`# run ${codes.join(" and ")}`];
    const header = ["# SYNTHETIC record of the invented stand Heron, Larkmoor College", ...said];
    const name = run.number === nameless ? "recorder-0019.csv" : `${codes.join("+")}.csv`;
    yield { name, text: recordText(runs, HERON.rig, header), holds: codes };
  }
}

/** As the bench takes it in. */
export const demoTerm = {
  *runs() {
    for (const { log, plan, documents, entries } of termRuns())
      yield { log, code: plan.code, documents, entries };
  },
  files: termFiles,
  matrix: { name: `matrix-${HERON.rig.id}.json`, text: matrixText(HERON.rig.id, termMatrix, true) },
};
