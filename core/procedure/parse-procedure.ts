import { failed, ok, type Result } from "../result.ts";
import { readDocument } from "../schema/read-document.ts";
import type { Procedure } from "./procedure.ts";
import { ProcedureSchema } from "./procedure-schema.ts";

/**
 * Reads a procedure from a JSON value, strictly. Whether it is a good one is the linter's to say,
 * and whether it may start a run is `canStart`'s.
 * @param json  what JSON.parse gave
 * @fails the codes of readDocument
 */
export const parseProcedure = (json: unknown): Result<Procedure> => {
  const { value, issues } = readDocument(ProcedureSchema, json);
  return value === undefined ? failed(...issues) : ok(value);
};
