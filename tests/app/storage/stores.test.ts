import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { beforeEach } from "vitest";
import { pageTimer } from "../../../app/device/timer.ts";
import { connect } from "../../../app/storage/database.ts";
import { createIdbFileStore } from "../../../app/storage/idb-file-store.ts";
import { createIdbRunStore } from "../../../app/storage/idb-run-store.ts";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { createMemoryRunStore, emptyMemoryRuns } from "../../../app/storage/memory-run-store.ts";
import { watchStore } from "../../../app/storage/watch-store.ts";
import { fileStoreContract } from "../../contract/file-store.contract.ts";
import { runStoreContract } from "../../contract/run-store.contract.ts";

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

runStoreContract("the store on IndexedDB", async () => {
  const store = (): ReturnType<typeof watchStore> => watchStore(createIdbRunStore(connect()), pageTimer);
  return { store: store(), reopen: store };
});

runStoreContract("its twin in memory", async () => {
  const kept = emptyMemoryRuns();
  const store = (): ReturnType<typeof watchStore> => watchStore(createMemoryRunStore(kept), pageTimer);
  return { store: store(), reopen: store };
});

fileStoreContract("the file store on IndexedDB", () => createIdbFileStore(connect()));
fileStoreContract("its twin in memory for files", () => createMemoryFileStore());
