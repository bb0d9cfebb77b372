import { failed, ok, type Result } from "../result.ts";
import { readDocument } from "../schema/read-document.ts";
import type { Contradiction } from "./contradictions/contradiction.ts";
import { fillContradictions } from "./contradictions/fill.ts";
import { gaugeContradictions } from "./contradictions/gauges.ts";
import { limitContradictions } from "./contradictions/limits.ts";
import { placeContradictions } from "./contradictions/places.ts";
import { pressureContradictions } from "./contradictions/pressure.ts";
import { repeatContradictions } from "./contradictions/repeats.ts";
import type { Rig } from "./rig.ts";
import { RigSchema } from "./rig-schema.ts";

const CONTRADICTIONS: readonly Contradiction[] = [
  ...fillContradictions,
  ...pressureContradictions,
  ...gaugeContradictions,
  ...limitContradictions,
  ...placeContradictions,
  ...repeatContradictions,
];

/**
 * Reads a rig from a JSON value, strictly, and refuses one that contradicts itself. Every reason is
 * given: what is contradictory among the fields that can be read is said beside those that cannot.
 * @param json  what JSON.parse gave
 * @fails the codes of readDocument, and of the contradictions in this folder
 */
export const parseRig = (json: unknown): Result<Rig> => {
  const { value, issues, rest, broken } = readDocument(RigSchema, json);
  const readable = (key: keyof Rig): boolean => !broken.some(([top]) => top === undefined || top === key);
  const found = CONTRADICTIONS.filter(({ reads }) => reads.every(readable)).flatMap(({ find }) =>
    find(rest as Rig),
  );
  return value !== undefined && found.length === 0 ? ok(value) : failed(...issues, ...found);
};
