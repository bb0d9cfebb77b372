import { canonicalEntry } from "../record/canonical.ts";
import { digest, NOTHING_BEFORE } from "../record/digest.ts";
import { failed, issue, ok, placedIn, type Result } from "../result.ts";
import { LINES_BEFORE_ENTRIES } from "./run-file.ts";

/**
 * A run file without what its own content gives back: the links and digests of its entries. Digests
 * do not deflate, and would be two thirds of what the entries weigh. The head's digest stays: it
 * proves that what was computed again is what the phone wrote.
 */

type Fields = Readonly<Record<string, unknown>>;

/** One line's object; undefined where it is none. */
export const fieldsOf = (line: string): Fields | undefined => {
  try {
    const value: unknown = JSON.parse(line);
    return typeof value === "object" && value !== null && !Array.isArray(value)
      ? (value as Fields)
      : undefined;
  } catch {
    return undefined;
  }
};

const unread = (number: number): Result<never> =>
  failed(
    issue(
      "line-not-json",
      `line ${number}`,
      "it is not one JSON object",
      "Take the run from the phone again.",
    ),
  );

/** Rewrites the entries one after another, and leaves head, rig and procedure as they are. */
const withEntries = (text: string, rewrite: (entry: Fields) => Result<string>): Result<string> => {
  const lines = text.split("\n");
  const done: string[] = [];
  for (const [i, line] of lines.entries()) {
    // A text that ends in a line feed has an empty piece after it.
    if (i < LINES_BEFORE_ENTRIES || (line === "" && i === lines.length - 1)) {
      done.push(line);
      continue;
    }
    const entry = fieldsOf(line);
    if (!entry) return unread(i + 1);
    const rewritten = rewrite(entry);
    if (!rewritten.ok) return failed(...placedIn(`line ${i + 1}`, rewritten.issues));
    done.push(rewritten.value);
  }
  return ok(done.join("\n"));
};

/**
 * Puts links and digests back: the run file, byte for byte. It is as good as its bare text, so
 * whoever took that from outside still reads the result with `readRunFile`.
 * @fails line-not-json, value-unstable, value-too-deep: the first broken line, since every later
 *   digest hangs on it
 */
export const sealedRun = (bare: string): Result<string> => {
  let prev = NOTHING_BEFORE;
  return withEntries(bare, (fields) => {
    const open = canonicalEntry({ ...fields, prev });
    if (!open.ok) return open;
    const hash = digest(open.value);
    const sealed = canonicalEntry({ ...fields, prev, hash });
    prev = hash;
    return sealed;
  });
};

/**
 * Takes links and digests out, and only where `sealedRun` gives the same text back.
 * @fails line-not-json, value-unstable, value-too-deep, and run-not-sealed where the text does not
 *   come back: it was edited, or its lines end otherwise
 */
export const bareRun = (text: string): Result<string> => {
  const bare = withEntries(text, ({ prev: _prev, hash: _hash, ...fields }) => canonicalEntry(fields));
  if (!bare.ok) return bare;
  const again = sealedRun(bare.value);
  if (!again.ok || again.value === text) return again.ok ? bare : again;
  const detail = "links and digests of its entries are not those that its content gives";
  return failed(issue("run-not-sealed", "the file", detail, "Export the run again on the phone."));
};
