import { type Issue, ok, type Result } from "../../core/result.ts";
import type { FileStore, StoredFile } from "../ports.ts";
import {
  type BenchRecord,
  emptyRecord,
  fileOfRecord,
  readRecord,
  recordName,
  recordText,
} from "./bench-record.ts";

export type HeldFile = {
  readonly file: Omit<StoredFile, "bytes">;
  readonly record: BenchRecord;
};

/**
 * Every force file of this device with the newest record of what was decided about it. A record that cannot be read
 * is named; its file then stands as if nothing had been decided.
 */
export async function heldFiles(files: FileStore): Promise<
  Result<{
    readonly held: readonly HeldFile[];
    readonly faults: readonly { name: string; issues: readonly Issue[] }[];
  }>
> {
  const list = await files.list();
  if (!list.ok) return list;
  const records = new Map<string, BenchRecord>();
  const faults: { name: string; issues: readonly Issue[] }[] = [];
  for (const { name, digest } of list.value) {
    const of = fileOfRecord(name);
    if (of === undefined) continue;
    const stored = await files.get(digest);
    const record = stored.ok ? readRecord(new TextDecoder().decode(stored.value.bytes)) : stored;
    if (!record.ok) faults.push({ name, issues: record.issues });
    else if (record.value.revision > (records.get(of)?.revision ?? -1)) records.set(of, record.value);
  }
  const held = list.value
    .filter(({ kind }) => kind === "force")
    .map((file) => ({ file, record: records.get(file.digest) ?? emptyRecord(file.digest, file.name) }));
  return ok({ held, faults });
}

export async function keepRecord(files: FileStore, record: BenchRecord, at: number): Promise<Result<string>> {
  const bytes = new TextEncoder().encode(recordText(record)).buffer;
  return files.put({ name: recordName(record.file), kind: "result", at, bytes });
}
