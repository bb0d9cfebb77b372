import canonicalize from "canonicalize";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";

/**
 * The one text that a value has (RFC 8785), so that its digest is the same on every machine.
 * Entries hold integers, never fractions: what was typed is kept as text, and no two parsers can
 * disagree on its last digit. Documents (rig, procedure) may hold fractions.
 */

/** Deeper than any value of ours; a file that nests further is an attack or a mistake. */
const DEPTH_LIMIT = 32;

/** With the u flag a surrogate matches only where its other half is missing. */
const LONE_SURROGATE = /\p{Surrogate}/u;

type Numbers = "integers" | "any";

const unstable = (where: string, detail: string, remedy: string): Issue =>
  issue("value-unstable", where, detail, remedy);

const textFaults = (text: string, where: string): readonly Issue[] =>
  LONE_SURROGATE.test(text)
    ? [
        unstable(
          where,
          "half of a character is missing",
          "Type the text again, without the broken character.",
        ),
      ]
    : [];

const numberFaults = (value: number, numbers: Numbers, where: string): readonly Issue[] => {
  if (numbers === "integers" && !Number.isSafeInteger(value))
    return [
      unstable(where, `${value} is no whole number that every machine reads alike`, "Keep it as typed text."),
    ];
  return Number.isFinite(value) ? [] : [unstable(where, `${value} is no number`, "Give a finite number.")];
};

const faults = (value: unknown, numbers: Numbers, where: string, depth: number): readonly Issue[] => {
  if (depth > DEPTH_LIMIT)
    return [
      issue("value-too-deep", where, `nested deeper than ${DEPTH_LIMIT}`, "Send the file again whole."),
    ];
  if (typeof value === "string") return textFaults(value, where);
  if (typeof value === "number") return numberFaults(value, numbers, where);
  if (typeof value === "boolean") return [];
  if (Array.isArray(value))
    return value.flatMap((item: unknown, i) => faults(item, numbers, `${where}[${i}]`, depth + 1));
  if (typeof value === "object" && value !== null)
    return Object.entries(value).flatMap(([key, item]) => [
      ...textFaults(key, where),
      ...faults(item, numbers, where === "" ? key : `${where}.${key}`, depth + 1),
    ]);
  return [unstable(where, `${String(value)} has no stable text`, "Leave the key out, or give it a value.")];
};

const canonical = (value: unknown, numbers: Numbers): Result<string> => {
  const found = faults(value, numbers, "", 0);
  // What passed above is plain data, which always has a text.
  return found.length > 0 ? failed(...found) : ok(canonicalize(value) as string);
};

/**
 * Canonical text of an entry or an event: whole numbers, text, true and false, lists and objects.
 * @fails value-unstable, value-too-deep: every place
 */
export const canonicalEntry = (value: unknown): Result<string> => canonical(value, "integers");

/**
 * Canonical text of a document, where fractions are allowed.
 * @fails value-unstable, value-too-deep: every place
 */
export const canonicalDocument = (value: unknown): Result<string> => canonical(value, "any");
