import { digest } from "../../core/record/digest.ts";
import { failed, issue, ok } from "../../core/result.ts";
import type { FileStore, StoredFile } from "../ports.ts";

/** The twin of the IndexedDB file store, under the same contract suite. */
export const createMemoryFileStore = (): FileStore => {
  const files = new Map<string, StoredFile>();
  return {
    put: async (file) => {
      const of = digest(new Uint8Array(file.bytes));
      if (!files.has(of)) files.set(of, { ...file, bytes: file.bytes.slice(0), digest: of });
      return ok(of);
    },
    get: async (of) => {
      const file = files.get(of);
      if (file) return ok({ ...file, bytes: file.bytes.slice(0) });
      const remedy = "Bring the file in again.";
      return failed(issue("file-not-found", of.slice(0, 8), "this device holds no such file", remedy));
    },
    list: async () => ok([...files.values()].map(({ bytes: _, ...about }) => about)),
  };
};
