import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB, type StoreNames } from "idb";
import type { Entry } from "../../core/record/entry.ts";
import type { RunDocuments, StoredFile } from "../ports.ts";

export type StoredHead = {
  readonly log: string;
  readonly code: string;
  readonly documents: RunDocuments;
};

export interface FourfastDatabase extends DBSchema {
  runs: { key: string; value: StoredHead };
  /** The key itself makes the log append-only: a second `add` at (log, seq) is a ConstraintError. */
  entries: { key: [string, number]; value: Entry };
  /** Runs that were closed or scrubbed, so that the list need not read every entry. */
  ended: { key: string; value: { readonly log: string } };
  probes: { key: number; value: { readonly mark: string } };
  files: {
    key: string;
    value: StoredFile;
    /** What a list of files says of each, in the key itself: a list then never reads the files. */
    indexes: { about: [name: string, kind: StoredFile["kind"], at: number] };
  };
}

export type Database = IDBPDatabase<FourfastDatabase>;

export const DATABASE = "fourfast";

export type Upgrade = IDBPTransaction<FourfastDatabase, StoreNames<FourfastDatabase>[], "versionchange">;
export type DatabaseStep = (database: Database, upgrade: Upgrade) => void;

/**
 * Additive steps, numbered without gaps: step n makes version n + 1 of version n. A step never
 * rewrites an entry, whose hash would no longer fit; entries are converted when they are read.
 */
export const STEPS: readonly DatabaseStep[] = [
  (database) => {
    database.createObjectStore("runs", { keyPath: "log" });
    database.createObjectStore("entries", { keyPath: ["log", "seq"] });
    database.createObjectStore("ended", { keyPath: "log" });
    database.createObjectStore("probes", { autoIncrement: true });
    database.createObjectStore("files", { keyPath: "digest" });
  },
  (_, upgrade) => {
    upgrade.objectStore("files").createIndex("about", ["name", "kind", "at"]);
  },
];

export type Connection = {
  /** The open database, opened on first need. */
  readonly get: () => Promise<Database>;
  readonly drop: () => void;
  readonly isBlocked: () => boolean;
};

/**
 * One connection, opened on demand and let go whenever the platform says it is no good.
 * idb's four callbacks are all answered: a connection that nobody closes blocks every newer page,
 * and one that the browser has ended fails every write without a word.
 */
export const connect = (name: string = DATABASE, steps: readonly DatabaseStep[] = STEPS): Connection => {
  let opening: Promise<Database> | undefined;
  let blocked = false;

  const drop = (): void => {
    const old = opening;
    opening = undefined;
    // An open that hung may still succeed one day: it must not keep a connection that nobody uses.
    old?.then((database) => database.close()).catch(() => {});
  };

  const open = (): Promise<Database> =>
    openDB<FourfastDatabase>(name, steps.length, {
      upgrade: (database, from, _to, upgrade) => {
        for (const step of steps.slice(from)) step(database, upgrade);
      },
      blocked: () => {
        blocked = true;
      },
      // A newer page waits to upgrade: it gets the store, and this page finds out at its next write.
      blocking: drop,
      terminated: drop,
    }).then((database) => {
      blocked = false;
      return database;
    });

  return {
    get: () => {
      const current = opening ?? open();
      opening = current;
      // A failed open is nobody's connection: the next need tries anew.
      current.catch(() => {
        if (opening === current) opening = undefined;
      });
      return current;
    },
    drop,
    isBlocked: () => blocked,
  };
};
