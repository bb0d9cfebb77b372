import * as v from "valibot";
import type { DeepReadonly, SameShape } from "../schema/same-shape.ts";
import type { Entry } from "./entry.ts";
import { LogEventSchema, StampEntries } from "./event-schema.ts";

const hash = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/, "a SHA-256 digest, 64 hexadecimal digits"));
const short = v.pipe(v.string(), v.maxLength(200, "at most 200 characters"));

export const EntrySchema = v.strictObject({
  v: v.literal(1),
  log: short,
  seq: v.pipe(v.number(), v.safeInteger("a whole number")),
  ...StampEntries,
  device: short,
  by: short,
  event: LogEventSchema,
  prev: hash,
  hash,
});

const sameAsType: SameShape<DeepReadonly<v.InferOutput<typeof EntrySchema>>, Entry> = true;
void sameAsType;
