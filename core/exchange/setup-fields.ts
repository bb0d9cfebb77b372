import { type Issue, issue } from "../result.ts";
import type { NumberKey } from "./setup-keys.ts";

export type Fields = Readonly<Record<string, unknown>>;
/** Defaults that were used, by key. */
export type Assumed = Record<string, unknown>;

export const isObject = (json: unknown): json is Fields =>
  typeof json === "object" && json !== null && !Array.isArray(json);

export function isList(json: unknown, where: string, issues: Issue[]): json is readonly unknown[] {
  if (!Array.isArray(json)) {
    issues.push(issue("wrong-type", where, `found ${JSON.stringify(json)}`, "give a list [ … ]"));
    return false;
  }
  if (json.length === 0) {
    issues.push(issue("list-empty", where, "the list is empty", `leave ${where} out, or list at least one`));
    return false;
  }
  return true;
}

export function assume<T>(assumed: Assumed, key: string, value: T): T {
  assumed[key] = value;
  return value;
}

export type NumberReader<Key extends string> = {
  /** The number under `key`; undefined where it is absent or was refused. */
  readonly get: (key: Key) => number | undefined;
  /** The number under `key`, or the table's default, which is then listed in `assumed`. */
  readonly orDefault: (key: Key, assumed: Assumed) => number;
};

/**
 * Checks every key of an object of numbers against its table, adding all that is wrong to `issues`.
 * @param others  keys that are known as well and read elsewhere
 * @fails key-unknown, key-missing, wrong-type, out-of-range (into `issues`)
 */
export function readNumbers<Key extends string>(
  json: Fields,
  path: string,
  table: Readonly<Record<Key, NumberKey>>,
  others: readonly string[],
  issues: Issue[],
): NumberReader<Key> {
  const keys = Object.keys(table) as Key[];
  const known = [...keys, ...others];
  for (const key of Object.keys(json)) {
    if (!known.includes(key)) issues.push(unknownKey(key, path, known));
  }
  const values = new Map<Key, number>();
  for (const key of keys) {
    const rule = table[key];
    const value = json[key];
    const where = `${path}${key}`;
    if (value === undefined) {
      if (rule.required) issues.push(issue("key-missing", where, `${rule.what} is not given`, rule.remedy));
    } else if (typeof value !== "number" || !Number.isFinite(value)) {
      const detail = `${rule.what}: found ${JSON.stringify(value)}, not a number`;
      issues.push(issue("wrong-type", where, detail, rule.remedy));
    } else if (value < rule.least || value > rule.greatest) {
      const detail = `${rule.what}: ${value} is outside ${rule.least} to ${rule.greatest}`;
      issues.push(issue("out-of-range", where, detail, rule.remedy));
    } else values.set(key, value);
  }
  return {
    get: (key) => values.get(key),
    orDefault: (key, assumed) => values.get(key) ?? assume(assumed, key, table[key].default!),
  };
}

/** Reads a choice among a few values; undefined where it is absent or was refused. */
export function readChoice<const Choice>(
  value: unknown,
  where: string,
  choices: readonly Choice[],
  issues: Issue[],
): Choice | undefined {
  if (value === undefined || choices.includes(value as Choice)) return value as Choice | undefined;
  const list = choices.map((choice) => JSON.stringify(choice)).join(" or ");
  issues.push(issue("wrong-type", where, `found ${JSON.stringify(value)}`, `give ${list}`));
  return undefined;
}

/** Most unknown keys are a known quantity in another unit or another case; then say which. */
function unknownKey(key: string, path: string, known: readonly string[]): Issue {
  const stem = (name: string) => name.split("_")[0]!.toLowerCase();
  const meant = known.find((name) => stem(name) === stem(key));
  const remedy =
    meant === undefined ? `remove it, or use one of: ${known.join(", ")}` : `did you mean ${meant}?`;
  return issue("key-unknown", `${path}${key}`, `there is no key "${key}"`, remedy);
}
