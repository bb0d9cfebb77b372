import { canStart } from "../procedure/lint/can-start.ts";
import { lintDocument } from "../procedure/lint/lint-document.ts";
import { parseProcedure } from "../procedure/parse-procedure.ts";
import { type WrittenDocuments, withRigNumbers } from "../procedure/rig-numbers.ts";
import { failed, type Issue, ok, placedIn, type Result } from "../result.ts";
import { parseRig } from "../rig/parse-rig.ts";
import { completed, type NamedText, type Part, partsOf, twice } from "./stand-parts.ts";

export type ReadStand = {
  readonly documents: WrittenDocuments;
  /** Whoever approved the procedure accepted these by name. */
  readonly warnings: readonly Issue[];
  /** Why no run can be started on it as it is. */
  readonly waits: readonly Issue[];
};

/**
 * Reads a stand out of one file, or out of a rig's and a procedure's; a procedure alone is for a stand
 * that is known, a rig alone goes on by its known procedure: what that one then lacks is told, and the
 * rig's facts stand.
 * @param known  stands of this device
 * @param today  ISO date, against which deviations lapse
 * @fails stand-unreadable, stand-twice, stand-incomplete, what `parseRig` fails with, and every error
 *   of the linter: all of them, each with the name of its file
 */
export function readStand(
  texts: readonly NamedText[],
  known: readonly WrittenDocuments[],
  today: string,
): Result<ReadStand> {
  const parts = texts.filter(({ text }, i) => texts.findIndex((one) => one.text === text) === i).map(partsOf);
  const faults = parts.flatMap((part) => (part.ok ? [] : part.issues));
  const found = parts.flatMap((part) => (part.ok ? part.value : []));
  const repeated = twice(found);
  if (faults.length + repeated.length > 0) return failed(...faults, ...repeated);
  const whole = completed(found, known);
  return whole.ok ? judged(whole.value.rig, whole.value.procedure, today) : whole;
}

function judged(rigPart: Part, procedurePart: Part, today: string): Result<ReadStand> {
  const rig = parseRig(rigPart.json);
  const linted = lintDocument(procedurePart.json, rig.ok ? rig.value : undefined, today);
  const written = parseProcedure(procedurePart.json);
  if (!rig.ok || !written.ok || (linted.errors.length > 0 && !procedurePart.known))
    return failed(
      ...(rig.ok ? [] : placedIn(rigPart.from, rig.issues)),
      ...placedIn(procedurePart.from, linted.errors),
    );
  const may = canStart(withRigNumbers(written.value, rig.value), rig.value, today);
  return ok({
    documents: { rig: rig.value, written: written.value },
    warnings: linted.warnings,
    waits: may.ok ? [] : may.issues,
  });
}
