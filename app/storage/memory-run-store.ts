import type { Entry } from "../../core/record/entry.ts";
import type { StoredHead } from "./database.ts";
import { endsRun, type RawRunStore } from "./raw-run-store.ts";

/** What a memory store keeps: hand the same to a second store and it sees what the first wrote. */
export type MemoryRuns = {
  readonly heads: Map<string, StoredHead>;
  readonly entries: Map<string, readonly Entry[]>;
};

export const emptyMemoryRuns = (): MemoryRuns => ({ heads: new Map(), entries: new Map() });

/** The twin of the IndexedDB store, under the same contract suite: for tests, simulation and drills. */
export const createMemoryRunStore = (kept: MemoryRuns = emptyMemoryRuns()): RawRunStore => {
  const entriesOf = (log: string): readonly Entry[] => kept.entries.get(log) ?? [];
  return {
    create: async (log, code, documents) => {
      if (kept.heads.has(log)) return "exists";
      kept.heads.set(log, structuredClone({ log, code, documents }));
      return "created";
    },

    append: async (entry) => {
      const standing = entriesOf(entry.log).find(({ seq }) => seq === entry.seq);
      if (standing) return structuredClone(standing);
      const all = [...entriesOf(entry.log), structuredClone(entry)];
      kept.entries.set(
        entry.log,
        all.sort((a, b) => a.seq - b.seq),
      );
      return "added";
    },

    read: async (log) => {
      const head = kept.heads.get(log);
      return head && structuredClone({ ...head, entries: entriesOf(log) });
    },

    list: async () =>
      [...kept.heads.values()].map(({ log, code, documents }) => {
        const entries = entriesOf(log);
        return {
          log,
          code,
          rigName: documents.rig.name,
          openedAt: entries[0]?.at ?? 0,
          lastSeq: entries.at(-1)?.seq ?? -1,
          open: !entries.some(endsRun),
        };
      }),

    probe: async () => {},
    drop: () => {},
    isBlocked: () => false,
  };
};
