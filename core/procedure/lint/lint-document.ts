import type { Issue } from "../../result.ts";
import type { Rig } from "../../rig/rig.ts";
import { readDocument } from "../../schema/read-document.ts";
import { ProcedureSchema } from "../procedure-schema.ts";
import { withRigNumbers } from "../rig-numbers.ts";
import { type Linted, lintProcedure } from "./lint-procedure.ts";
import { couldBeJudged, readablePart } from "./readable-part.ts";

/**
 * Lints a procedure file as it came: what the schema and what the rules find, all at once.
 * @param json  what JSON.parse gave; what it leaves to the rig is judged with the rig's numbers in it
 */
export const lintDocument = (json: unknown, rig?: Rig, today?: string): Linted => {
  const { issues, rest, broken } = readDocument(ProcedureSchema, json);
  const readable = readablePart(rest, broken);
  if (readable === undefined) return { errors: issues, warnings: [], notes: [] };
  const { errors, warnings, notes } = lintProcedure(
    rig ? withRigNumbers(readable, rig) : readable,
    rig,
    today,
  );
  const judged = (found: readonly Issue[]) => found.filter(({ where }) => couldBeJudged(where, broken));
  return { errors: [...issues, ...judged(errors)], warnings: judged(warnings), notes: judged(notes) };
};
