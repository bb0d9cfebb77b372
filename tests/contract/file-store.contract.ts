import { describe, expect, test } from "vitest";
import type { FileStore } from "../../app/ports.ts";

const bytes = (...values: number[]): ArrayBuffer => new Uint8Array(values).buffer;

/** What every file store promises. */
export const fileStoreContract = (name: string, make: () => FileStore): void => {
  describe(name, () => {
    test("gives back a file by the digest of its bytes, to the byte", async () => {
      const store = make();
      const put = await store.put({ name: "heron.csv", kind: "force", at: 5, bytes: bytes(1, 2, 255) });
      // SHA-256 of 01 02 ff, by node:crypto.
      const { createHash } = await import("node:crypto");
      const digest = createHash("sha256")
        .update(new Uint8Array([1, 2, 255]))
        .digest("hex");
      expect(put).toEqual({ ok: true, value: digest });
      const got = await store.get(digest);
      expect(got.ok && new Uint8Array(got.value.bytes)).toEqual(new Uint8Array([1, 2, 255]));
      expect(got.ok && [got.value.name, got.value.kind, got.value.at, got.value.digest]).toEqual([
        "heron.csv",
        "force",
        5,
        digest,
      ]);
    });

    test("keeps the same bytes once, under the name they first came with", async () => {
      const store = make();
      await store.put({ name: "one.csv", kind: "force", at: 1, bytes: bytes(7) });
      await store.put({ name: "two.csv", kind: "force", at: 2, bytes: bytes(7) });
      const list = await store.list();
      expect(list.ok && list.value.map((file) => file.name)).toEqual(["one.csv"]);
    });

    test("lists what it keeps without the bytes, and says what it does not keep", async () => {
      const store = make();
      await store.put({ name: "a", kind: "run", at: 1, bytes: bytes(1) });
      await store.put({ name: "b", kind: "photo", at: 2, bytes: bytes(2) });
      const list = await store.list();
      expect(list.ok && list.value.map((file) => file.name).sort()).toEqual(["a", "b"]);
      expect(list.ok && list.value.some((file) => "bytes" in file)).toBe(false);
      expect(await store.get("0".repeat(64))).toMatchObject({
        ok: false,
        issues: [{ code: "file-not-found" }],
      });
    });

    test("an empty file is a file", async () => {
      const store = make();
      const put = await store.put({ name: "empty", kind: "force", at: 1, bytes: bytes() });
      expect(put.ok && (await store.get(put.value)).ok).toBe(true);
    });
  });
};
