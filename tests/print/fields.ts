import { code, table } from "./page.ts";

/** What of JSON Schema our documents use. */
type Schema = {
  readonly type?: string;
  readonly description?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly items?: Schema;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
};

const typeOf = (schema: Schema): string => {
  if (schema.const !== undefined) return code(JSON.stringify(schema.const));
  if (schema.enum)
    return schema.enum.length > 8
      ? "one of a list"
      : schema.enum.map((each) => JSON.stringify(each)).join(", ");
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices)
    return choices.every(({ properties }) => properties) ? "object" : choices.map(typeOf).join(" or ");
  return schema.type === "array" ? "list" : (schema.type ?? "any");
};

type Row = readonly [path: string, type: string, meaning: string];

/** A choice is told by the one field that has a fixed value in it. */
const choiceName = (choice: Schema): string | undefined =>
  Object.values(choice.properties ?? {})
    .filter((field) => field.const !== undefined)
    .map((field) => JSON.stringify(field.const))[0];

/** Fields of a choice, each with the choice that it belongs to; what tells them apart is said once. */
const ofChoices = (choices: readonly Schema[], path: string): readonly Row[] => {
  const names = choices.map(choiceName);
  const rows = choices.flatMap((choice, at) =>
    within(choice, path).map(([field, type, meaning]): Row => {
      const told = type === code(names[at] ?? "");
      return told
        ? [field, names.filter((name) => name !== undefined).join(", "), "which of these it is"]
        : [field, type, names[at] ? `${names[at]}: ${meaning}` : meaning];
    }),
  );
  const isRepeat = ([field, , meaning]: Row, at: number): boolean =>
    meaning === "which of these it is" && rows.findIndex(([first]) => first === field) < at;
  return rows.filter((row, at) => !isRepeat(row, at));
};

/** Deeper fields of a schema: those of its items, its choices, its own. */
const within = (schema: Schema, path: string): readonly Row[] => [
  ...(schema.items ? within(schema.items, `${path}[]`) : []),
  ...ofChoices(schema.anyOf ?? schema.oneOf ?? [], path),
  ...Object.entries(schema.properties ?? {}).flatMap(([key, field]): readonly Row[] => {
    const here = path === "" ? key : `${path}.${key}`;
    const optional = schema.required?.includes(key) ? "" : ", optional";
    return [
      [code(here), typeOf(field) + optional, field.description ?? ""],
      ...within(field, here.replaceAll("`", "")),
    ];
  }),
];

/** A phase is printed once: they are all lists of steps. */
const alike = (rows: readonly Row[]): readonly Row[] =>
  rows.filter(([path]) => !/^`phases\.(?!preparing)[\w-]+(?:\[|\.)/.test(path));

/** Every field of a document with its type and meaning; choices of one kind follow one another. */
export const fieldTable = (schema: unknown): string =>
  table(["field", "type", "meaning"], alike(within(schema as Schema, "")));
