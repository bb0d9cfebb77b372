import { canonicalDocument } from "../record/canonical.ts";
import { type Sealed, verifyEntries } from "../record/verify.ts";
import { type Issue, issue } from "../result.ts";

/** One object of the file, and what is wrong with the way it is written. */
export type Line = {
  readonly where: string;
  /** Absent where the line is not one JSON object. */
  readonly value?: Readonly<Record<string, unknown>>;
  readonly issues: readonly Issue[];
};

/** Far more than any procedure weighs. */
const LINE_CHARACTERS = 1_000_000;

export const SEND_AGAIN = "Send the file again from the phone; nothing in it was changed here.";

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

const readLine = (text: string, where: string, isLast: boolean): Line => {
  const broken = (code: string, detail: string): Line => ({
    where,
    issues: [issue(code, where, detail, SEND_AGAIN)],
  });
  if (text.length > LINE_CHARACTERS) return broken("line-too-long", `it has ${text.length} characters`);
  const value = parsed(text);
  if (typeof value !== "object" || value === null || Array.isArray(value))
    return broken("line-not-json", isLast ? "the file breaks off inside it" : "it is not one JSON object");
  const object = value as NonNullable<Line["value"]>;
  const canonical = canonicalDocument(object);
  if (!canonical.ok) return { where, issues: canonical.issues.map((found) => ({ ...found, where })) };
  if (canonical.value === text) return { where, value: object, issues: [] };
  const detail = "it was edited or laid out anew: no program of ours writes it so";
  return { where, value: object, issues: [issue("line-not-canonical", where, detail, SEND_AGAIN)] };
};

/** Mail and clipboards add a mark and change line ends; nothing else about a line may change. */
export const readLines = (text: string): readonly Line[] => {
  const texts = text
    .replace(/^\uFEFF/, "")
    .trimEnd()
    .split(/\r?\n/);
  return texts.map((each, i) => readLine(each, `line ${i + 1}`, i === texts.length - 1));
};

const isSealed = (value: Line["value"]): value is NonNullable<Line["value"]> & Sealed =>
  value !== undefined &&
  typeof value["log"] === "string" &&
  Number.isSafeInteger(value["seq"]) &&
  typeof value["prev"] === "string" &&
  typeof value["hash"] === "string";

/** The longest runs of lines that carry a seal. */
const stretches = (
  lines: readonly Line[],
): readonly { readonly from: number; readonly sealed: Sealed[] }[] => {
  const found: { from: number; sealed: Sealed[] }[] = [];
  let open: { from: number; sealed: Sealed[] } | undefined;
  for (const [i, { value }] of lines.entries()) {
    if (!isSealed(value)) open = undefined;
    else if (open) open.sealed.push(value);
    else {
      open = { from: i, sealed: [value] };
      found.push(open);
    }
  }
  return found;
};

/**
 * Faults of the chain, over each stretch of lines that can be read: a broken line is named once,
 * and does not make its neighbours look broken.
 */
export const chainFaults = (lines: readonly Line[], log: string): readonly Issue[] =>
  stretches(lines).flatMap(({ from, sealed }) => {
    const [first] = sealed;
    const after = first && from > 0 ? { seq: first.seq - 1, hash: first.prev } : undefined;
    const checked = verifyEntries(sealed, (i) => lines[from + i]?.where ?? "", after, log);
    return checked.ok ? [] : checked.issues;
  });
