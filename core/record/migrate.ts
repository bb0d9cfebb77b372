import { failed, issue, ok, type Result } from "../result.ts";

/** An entry as it was read, of whatever version. */
export type RawEntry = Readonly<Record<string, unknown>>;

export type EntryStep = (entry: RawEntry) => RawEntry;

/**
 * Step n turns an entry of version n + 1 into one of version n + 2: numbered by their place, so
 * without gaps. Entries are converted when they are read and never rewritten, since their digest
 * covers what was written; so the chain is checked before, on the entry as it stands.
 */
const STEPS: readonly EntryStep[] = [];

/**
 * Brings an entry to the version that this software reads.
 * @fails entry-version-newer, entry-version-unknown
 */
export const migrateEntry = (
  entry: RawEntry,
  where: string,
  steps: readonly EntryStep[] = STEPS,
): Result<RawEntry> => {
  const version = entry["v"];
  const current = steps.length + 1;
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1)
    return failed(
      issue(
        "entry-version-unknown",
        where,
        `its version is ${JSON.stringify(version)}`,
        "Send the file again.",
      ),
    );
  if (version > current)
    return failed(
      issue(
        "entry-version-newer",
        where,
        `it is of version ${version}, and this software reads up to ${current}`,
        "Update the software; nothing in the file was changed.",
      ),
    );
  return ok(steps.slice(version - 1).reduce((converted, step) => step(converted), entry));
};
