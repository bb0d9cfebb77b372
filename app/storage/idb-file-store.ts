import { failed, issue, ok, type Result } from "../../core/result.ts";
import type { FileStore, StoredFile } from "../ports.ts";
import type { Connection } from "./database.ts";
import { digestBytes } from "./digest-bytes.ts";

const STRICT = { durability: "strict" } as const;

const guarded = async <T>(work: () => Promise<Result<T>>): Promise<Result<T>> => {
  try {
    return await work();
  } catch (fault) {
    const name = fault instanceof Error || fault instanceof DOMException ? fault.name : "";
    const code = name === "QuotaExceededError" ? "store-full" : "store-unavailable";
    return failed(
      issue(code, "files", `the file was not kept: ${String(fault)}`, "Free some room and retry."),
    );
  }
};

const missing = (of: string): Result<never> =>
  failed(
    issue("file-not-found", of.slice(0, 8), "this device holds no such file", "Bring the file in again."),
  );

/**
 * Files beside the runs, by the digest of their bytes, as ArrayBuffers: WebKit's IndexedDB still
 * loses Blobs (FIELD). A file counts as kept when it was read back and its digest agreed.
 */
export const createIdbFileStore = (connection: Connection): FileStore => {
  const get = async (of: string): Promise<Result<StoredFile>> => {
    const database = await connection.get();
    const file = await database.get("files", of);
    if (!file) return missing(of);
    if ((await digestBytes(file.bytes)) === of) return ok(file);
    const detail = "its bytes are not those that were stored";
    return failed(issue("file-changed", file.name, detail, "Bring the file in again."));
  };

  return {
    get: (of) => guarded(() => get(of)),

    put: (file) =>
      guarded(async () => {
        const of = await digestBytes(file.bytes);
        const database = await connection.get();
        const stored = await database.get("files", of);
        // Bytes that were spoilt here are replaced by the same file brought again; good ones never.
        const isGood = stored !== undefined && (await digestBytes(stored.bytes)) === of;
        const tx = database.transaction("files", "readwrite", STRICT);
        if (stored && !isGood) await tx.store.delete(of);
        if (!isGood) await tx.store.add({ ...file, digest: of });
        await tx.done;
        const back = await get(of);
        return back.ok ? ok(of) : back;
      }),

    list: () =>
      guarded(async () => {
        const database = await connection.get();
        const about = database.transaction("files").store.index("about");
        const found: Omit<StoredFile, "bytes">[] = [];
        // Keys alone: a hundred force files are a hundred megabytes.
        for (let cursor = await about.openKeyCursor(); cursor; cursor = await cursor.continue()) {
          const [name, kind, at] = cursor.key;
          found.push({ digest: cursor.primaryKey, name, kind, at });
        }
        return ok(found);
      }),
  };
};
