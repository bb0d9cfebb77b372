import { toJsonSchema } from "@valibot/to-json-schema";
import { ProcedureSchema } from "../../core/procedure/procedure-schema.ts";
import { RigSchema } from "../../core/rig/rig-schema.ts";
import type { Page } from "./page.ts";

export const rigJsonSchema = () => toJsonSchema(RigSchema, { errorMode: "throw" });
export const procedureJsonSchema = () => toJsonSchema(ProcedureSchema, { errorMode: "throw" });

/** The JSON Schemas that editors and other tools can check a document against. */
export const schemaPages = (): readonly Page[] => [
  { path: "docs/schemas/rig.schema.json", text: `${JSON.stringify(rigJsonSchema(), null, 2)}\n` },
  { path: "docs/schemas/procedure.schema.json", text: `${JSON.stringify(procedureJsonSchema(), null, 2)}\n` },
];
