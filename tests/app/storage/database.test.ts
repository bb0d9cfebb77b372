import { forceCloseDatabase, IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { openDB, unwrap } from "idb";
import { beforeEach, expect, test, vi } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { connect, DATABASE, STEPS } from "../../../app/storage/database.ts";
import { createIdbFileStore } from "../../../app/storage/idb-file-store.ts";
import { createIdbRunStore } from "../../../app/storage/idb-run-store.ts";
import type { Entry } from "../../../core/record/entry.ts";
import { SHORT_LOG } from "../../core/record/short-log.ts";

const entry = SHORT_LOG[0] as Entry;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

test("every write of the log, and of files, is a strict transaction of its own", async () => {
  const opened = vi.spyOn(IDBDatabase.prototype, "transaction");
  const connection = connect();
  const store = createIdbRunStore(connection);
  await store.create("log1", "H-329-01", HERON);
  await store.append(entry);
  await store.probe();
  await createIdbFileStore(connection).put({ name: "a", kind: "force", at: 0, bytes: new ArrayBuffer(3) });
  const writes = opened.mock.calls.filter(([, mode]) => mode === "readwrite");
  expect(writes.map(([, , options]) => options)).toEqual(writes.map(() => ({ durability: "strict" })));
  expect(writes.length).toBe(4);
  opened.mockRestore();
});

test("an append is said to be done when its transaction is, not when its request is", async () => {
  const connection = connect();
  const store = createIdbRunStore(connection);
  await store.create("log1", "H-329-01", HERON);
  const database = await connection.get();
  const real = database.transaction.bind(database);
  // The request succeeds and then the transaction is aborted: what IndexedDB does on a full disk.
  const aborting = vi.spyOn(IDBDatabase.prototype, "transaction").mockImplementation(function (
    this: IDBDatabase,
    ...args
  ) {
    aborting.mockRestore();
    const tx = this.transaction(...args);
    const add = IDBObjectStore.prototype.add;
    const spied = vi.spyOn(IDBObjectStore.prototype, "add").mockImplementation(function (
      this: IDBObjectStore,
      value,
    ) {
      spied.mockRestore();
      const request = add.call(this, value);
      request.addEventListener("success", () => tx.abort());
      return request;
    });
    return tx;
  });
  expect(typeof real).toBe("function");
  await expect(store.append(entry)).rejects.toThrow();
  expect((await store.read("log1"))?.entries).toEqual([]);
});

test("a newer page gets the store at once: this one closes and meets the newer version at its next write", async () => {
  const store = createIdbRunStore(connect());
  await store.create("log1", "H-329-01", HERON);
  const newer = await openDB(DATABASE, 99, { upgrade: () => {} });
  await expect(store.append(entry)).rejects.toThrow(/version/i);
  newer.close();
});

test("a connection that the browser ends is opened anew, and dropping one twice does no harm", async () => {
  const connection = connect();
  const store = createIdbRunStore(connection);
  await store.create("log1", "H-329-01", HERON);
  forceCloseDatabase(unwrap(await connection.get()) as never);
  expect(await store.append(entry)).toBe("added");
  store.drop();
  store.drop();
  expect((await store.read("log1"))?.entries).toEqual([entry]);
});

test("an upgrade that an older page holds up is known to be blocked until that page goes, and keeps what was there", async () => {
  const older = await openDB(DATABASE, 1, {
    upgrade: (database, _from, _to, upgrade) => STEPS[0]?.(database as never, upgrade as never),
  });
  const next = connect(DATABASE, [...STEPS, (database) => void database.createObjectStore("more" as never)]);
  await older.add("probes", { mark: "kept" });
  const opening = next.get();
  await vi.waitFor(() => expect(next.isBlocked()).toBe(true));
  older.close();
  const database = await opening;
  expect(next.isBlocked()).toBe(false);
  expect([...database.objectStoreNames]).toContain("more");
  expect(await database.getAll("probes")).toEqual([{ mark: "kept" }]);
});

test("an open that failed is tried anew at the next need, without anybody dropping it", async () => {
  const newer = await openDB(DATABASE, 99, { upgrade: () => {} });
  const connection = connect();
  await expect(connection.get()).rejects.toThrow(/version/i);
  newer.close();
  globalThis.indexedDB = new IDBFactory();
  expect((await connection.get()).name).toBe(DATABASE);
});

test("files that an older version kept are listed after the upgrade, and no list reads a file's bytes", async () => {
  const older = connect(DATABASE, STEPS.slice(0, 1));
  const put = await createIdbFileStore(older).put({
    name: "old.csv",
    kind: "force",
    at: 7,
    bytes: new Uint8Array([1, 2]).buffer,
  });
  older.drop();
  const connection = connect();
  const database = await connection.get();
  const asked = vi.spyOn(
    Object.getPrototypeOf(unwrap(database).transaction("files").objectStore("files")),
    "openCursor",
  );
  expect(await createIdbFileStore(connection).list()).toEqual({
    ok: true,
    value: [{ digest: put.ok && put.value, name: "old.csv", kind: "force", at: 7 }],
  });
  expect(asked).not.toHaveBeenCalled();
});

test("bytes that were changed on the disk are found by their digest", async () => {
  const connection = connect();
  const files = createIdbFileStore(connection);
  const put = await files.put({ name: "a.csv", kind: "force", at: 0, bytes: new Uint8Array([1, 2]).buffer });
  const of = put.ok ? put.value : "";
  const database = await connection.get();
  await database.delete("files", of);
  await database.add("files", {
    digest: of,
    name: "a.csv",
    kind: "force",
    at: 0,
    bytes: new Uint8Array([9]).buffer,
  });
  expect(await files.get(of)).toMatchObject({ ok: false, issues: [{ code: "file-changed" }] });
  const again = { name: "a.csv", kind: "force", at: 1, bytes: new Uint8Array([1, 2]).buffer } as const;
  expect(await files.put(again), "brought again, it is mended").toEqual({ ok: true, value: of });
  expect((await files.get(of)).ok).toBe(true);
});

test("a file that cannot be kept is an issue: no room, or no store", async () => {
  const full = createIdbFileStore({
    get: () => Promise.reject(new DOMException("full", "QuotaExceededError")),
    drop: () => {},
    isBlocked: () => false,
  });
  expect(await full.list()).toMatchObject({ ok: false, issues: [{ code: "store-full" }] });
  const gone = createIdbFileStore({
    get: () => Promise.reject("gone"),
    drop: () => {},
    isBlocked: () => false,
  });
  expect(await gone.list()).toMatchObject({ ok: false, issues: [{ code: "store-unavailable" }] });
});
