import type { RunSummary } from "../ports.ts";
import type { Connection, Database, StoredHead } from "./database.ts";
import { endsRun, type RawRunStore } from "./raw-run-store.ts";

/** Chrome, Firefox and Safari default to relaxed, which tells of writes that a power cut undoes (FIELD). */
const STRICT = { durability: "strict" } as const;

const everyEntryOf = (log: string): IDBKeyRange => IDBKeyRange.bound([log], [log, []]);

const isTaken = (fault: unknown): boolean =>
  fault instanceof DOMException && fault.name === "ConstraintError";

const create: (database: Database, head: StoredHead) => Promise<"created" | "exists"> = async (
  database,
  head,
) => {
  const tx = database.transaction("runs", "readwrite", STRICT);
  if ((await tx.store.getKey(head.log)) !== undefined) {
    await tx.done;
    return "exists";
  }
  await Promise.all([tx.store.add(head), tx.done]);
  return "created";
};

const append = async (database: Database, entry: Parameters<RawRunStore["append"]>[0]) => {
  const tx = database.transaction(["entries", "ended"], "readwrite", STRICT);
  const ends = endsRun(entry) && (await tx.objectStore("ended").getKey(entry.log)) === undefined;
  try {
    // The request's success is not the transaction's: only `done` says that it reached the disk.
    await Promise.all([
      tx.objectStore("entries").add(entry),
      ends && tx.objectStore("ended").add({ log: entry.log }),
      tx.done,
    ]);
    return "added";
  } catch (fault) {
    const standing = isTaken(fault) ? await database.get("entries", [entry.log, entry.seq]) : undefined;
    if (standing) return standing;
    throw fault;
  }
};

const summarize = async (database: Database, head: StoredHead): Promise<RunSummary> => {
  const tx = database.transaction(["entries", "ended"]);
  const entries = tx.objectStore("entries");
  const [first, last, ended] = await Promise.all([
    entries.get([head.log, 0]),
    entries.openKeyCursor(everyEntryOf(head.log), "prev"),
    tx.objectStore("ended").getKey(head.log),
  ]);
  return {
    log: head.log,
    code: head.code,
    rigName: head.documents.rig.name,
    openedAt: first?.at ?? 0,
    lastSeq: last ? last.key[1] : -1,
    open: ended === undefined,
  };
};

/** The run store on IndexedDB: `add` only, one strict transaction an entry. */
export const createIdbRunStore = (connection: Connection): RawRunStore => ({
  create: async (log, code, documents) => create(await connection.get(), { log, code, documents }),
  append: async (entry) => append(await connection.get(), entry),

  read: async (log) => {
    const database = await connection.get();
    const tx = database.transaction(["runs", "entries"]);
    const [head, entries] = await Promise.all([
      tx.objectStore("runs").get(log),
      tx.objectStore("entries").getAll(everyEntryOf(log)),
    ]);
    return head && { ...head, entries };
  },

  list: async () => {
    const database = await connection.get();
    const heads = await database.getAll("runs");
    return Promise.all(heads.map((head) => summarize(database, head)));
  },

  probe: async () => {
    const database = await connection.get();
    const tx = database.transaction("probes", "readwrite", STRICT);
    await tx.store.clear();
    const key = await tx.store.add({ mark: "written" });
    await tx.done;
    const back = await database.get("probes", key);
    if (back?.mark !== "written") throw new Error("the mark that was written did not come back");
  },

  drop: connection.drop,
  isBlocked: connection.isBlocked,
});
