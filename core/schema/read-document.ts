import * as v from "valibot";
import { type Issue, issue } from "../result.ts";

/**
 * Reads a JSON value against a strict schema and says everything that is wrong with it at once:
 * unknown fields and newer versions are said, never dropped.
 */

type Key = string | number;

export type Reading<T> = {
  /** Present only where nothing at all was wrong. */
  readonly value?: T;
  readonly issues: readonly Issue[];
  /** What was given less the unknown fields, for those who can judge the rest all the same. */
  readonly rest: unknown;
  /** Paths of `rest` that do not hold what they should. */
  readonly broken: readonly (readonly Key[])[];
};

export const pathText = (path: readonly Key[]): string =>
  path.reduce<string>((text, key) => {
    if (typeof key === "number") return `${text}[${key}]`;
    return text === "" ? key : `${text}.${key}`;
  }, "") || "the file";

const shown = (value: unknown): string => {
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
};

type AnyIssue = v.BaseIssue<unknown>;

const pathOf = (found: AnyIssue): readonly Key[] => (found.path ?? []).map(({ key }) => key as Key);

/** Only strict objects object to a key, and only with "never": valibot's word for "none expected". */
const isUnknownKey = (found: AnyIssue): boolean =>
  found.type === "strict_object" && found.expected === "never";

const isMissingKey = (found: AnyIssue): boolean =>
  found.type === "strict_object" && found.received === "undefined" && !isUnknownKey(found);

/** A copy without the value at one path. */
const without = (json: unknown, [key, ...deeper]: readonly Key[]): unknown => {
  if (typeof key === "number")
    return (json as readonly unknown[]).map((item, at) => (at === key ? without(item, deeper) : item));
  const entries = Object.entries(json as Record<string, unknown>);
  return Object.fromEntries(
    deeper.length === 0
      ? entries.filter(([name]) => name !== key)
      : entries.map(([name, value]) => [name, name === key ? without(value, deeper) : value]),
  );
};

/** What the schema itself says of the field at a path, so that a missing one is explained. */
const describedAt = (schema: unknown, path: readonly Key[]): string | undefined => {
  let here = schema as { entries?: Record<string, unknown>; item?: unknown; options?: readonly unknown[] };
  for (const key of path) {
    const options = here.options?.flatMap((option) => {
      const entries = (option as typeof here).entries;
      return entries && Object.hasOwn(entries, key) ? [entries[key]] : [];
    });
    const next = typeof key === "number" ? here.item : (here.entries?.[key] ?? options?.[0]);
    if (next === undefined) return undefined;
    here = next as typeof here;
  }
  return v.getDescription(here as v.GenericSchema);
};

const versionIssue = (where: string, found: AnyIssue): Issue => {
  const newer = typeof found.input === "number" && found.input > Number(found.expected);
  return newer
    ? issue(
        "version-newer",
        where,
        `version ${found.input} is newer than this software, which reads ${found.expected}`,
        "Update the software; nothing in the file was changed.",
      )
    : issue("version-unknown", where, `found ${shown(found.input)}`, `Write ${found.expected}.`);
};

const asIssue = (schema: unknown, found: AnyIssue): Issue => {
  const path = pathOf(found);
  const where = pathText(path);
  const meaning = describedAt(schema, path);
  if (isMissingKey(found))
    return issue(
      "key-missing",
      where,
      meaning ? `not given: ${meaning}` : "not given",
      "Write it; nothing is assumed.",
    );
  if (where === "version") return versionIssue(where, found);
  if (found.kind === "validation")
    return issue("out-of-range", where, `found ${shown(found.input)}`, `Give ${found.message}.`);
  if (found.type === "picklist" || found.type === "literal" || found.type === "variant")
    return issue("value-unknown", where, `found ${shown(found.input)}`, `Use ${found.expected}.`);
  const remedy = meaning ? `Give ${found.expected}: ${meaning}.` : `Give ${found.expected}.`;
  return issue("wrong-type", where, `found ${shown(found.input)}`, remedy);
};

const unknownKey = (found: AnyIssue): Issue =>
  issue(
    "key-unknown",
    pathText(pathOf(found)),
    "there is no such field",
    "Take it out, or correct its spelling; nothing is dropped silently.",
  );

/**
 * @fails key-unknown, key-missing, version-newer, version-unknown, out-of-range, value-unknown,
 *   wrong-type
 */
export const readDocument = <S extends v.GenericSchema>(
  schema: S,
  json: unknown,
): Reading<v.InferOutput<S>> => {
  if (typeof json !== "object" || json === null || Array.isArray(json)) {
    const issues = [issue("wrong-type", pathText([]), `found ${shown(json)}`, "Give one JSON object { … }.")];
    return { issues, rest: json, broken: [[]] };
  }
  const unknown: Issue[] = [];
  let rest: unknown = json;
  for (;;) {
    const result = v.safeParse(schema, rest);
    const found = result.issues ?? [];
    // Valibot names one unknown key an object; the next pass, without it, names the next.
    const strangers = found.filter(isUnknownKey);
    if (strangers.length > 0) {
      unknown.push(...strangers.map(unknownKey));
      for (const stranger of strangers) rest = without(rest, pathOf(stranger));
      continue;
    }
    const issues = [...unknown, ...found.map((each) => asIssue(schema, each))];
    const broken = found.map(pathOf);
    return issues.length === 0 && result.success
      ? { value: result.output, issues, rest, broken }
      : { issues, rest, broken };
  }
};
