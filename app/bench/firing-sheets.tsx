import { useState } from "preact/hooks";
import type { Correction } from "../../core/force/corrections.ts";
import { BesideSheet } from "./beside-sheet.tsx";
import { BudgetSheet } from "./budget-sheet.tsx";
import { CorrectionsSheet } from "./corrections-sheet.tsx";
import type { Desk } from "./desk.ts";
import { type DeskFile, eventsOf } from "./desk-file.ts";
import { LedgerSheet } from "./ledger-sheet.tsx";
import { ResultSheet } from "./result-sheet.tsx";
import type { DeskRun } from "./run-conditions.ts";
import { SourceSheet } from "./source-sheet.tsx";
import { IssueList } from "./take-in-strip.tsx";
import { TraceSheet } from "./trace-sheet.tsx";
import { type ForceView, requestWithout, useReduction } from "./use-force.ts";

export type FiringSheetsProps = {
  readonly desk: Desk;
  readonly view: ForceView;
  readonly file: DeskFile;
  readonly place: number;
  /** Undefined where the conditions were typed by hand. */
  readonly run: DeskRun | undefined;
};

/** One firing: its numbers, its trace, what was corrected, how it compares, what it is worth, what it rests on. */
export function FiringSheets({ desk, view, run, file, place }: FiringSheetsProps) {
  const [off, setOff] = useState<readonly Correction[]>([]);
  const reduction = useReduction(view, file, off);
  const whole = eventsOf(file)[place];
  const event = reduction?.ok ? reduction.value.events[place] : undefined;
  const request = requestWithout(file, off);
  const refused = file.outcome && !file.outcome.request.ok ? file.outcome.request.issues : undefined;
  if (refused) return <IssueList issues={refused} />;
  if (reduction && !reduction.ok) return <IssueList issues={reduction.issues} />;
  if (!whole || !request) return <p role="status">Being reduced…</p>;
  const setup = request.setup.events?.[place] ?? request.setup;
  const shown = event ?? whole;
  return (
    <>
      <ResultSheet event={shown} whole={whole} off={event ? off : []} />
      <TraceSheet
        {...{ desk, view, file, place, request }}
        event={shown}
        trace={file.outcome?.reduction?.ok ? file.outcome.reduction.value.trace : undefined}
      />
      <CorrectionsSheet event={whole} shown={shown} off={off} onOff={setOff} />
      <BesideSheet {...{ view, file, place, request, setup }} event={whole} />
      <LedgerSheet setup={setup} event={whole} />
      <BudgetSheet event={whole} />
      <SourceSheet
        {...{ file, place, run, request }}
        event={whole}
        onGiveBack={() => void desk.giveBackMarks(file, place)}
      />
    </>
  );
}
