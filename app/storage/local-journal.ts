import { canonicalDocument } from "../../core/record/canonical.ts";
import { digest } from "../../core/record/digest.ts";
import type { Entry } from "../../core/record/entry.ts";
import { failed, issue, ok, type Result } from "../../core/result.ts";
import type { Journal, JournalRun, LooseAct, RunDocuments } from "../ports.ts";
import { type SizedKeeper, sizedKeeper, type TextKeeper } from "./sized-keeper.ts";

const PREFIX = "fourfast-journal/";
/** 1 MB at most (FIELD, storage): browsers keep two bytes for each character. */
export const JOURNAL_CHARACTERS = 500_000;

/** The documents are kept once for all the runs that go by them. */
type Head = {
  readonly code: string;
  readonly order: number;
  readonly exportedThrough: number;
  readonly rig: string;
  readonly procedure: string;
};

const headKey = (log: string): string => `head/${log}`;
const pendingKey = (log: string): string => `pending/${log}`;
const entriesKey = (log: string): string => `entry/${log}/`;
const documentKey = (of: string): string => `document/${of}`;

const parsed = <T>(text: string | undefined): T | undefined =>
  text === undefined ? undefined : (JSON.parse(text) as T);

const logsOf = (kept: SizedKeeper): readonly string[] =>
  kept.keys(headKey("")).map((key) => key.slice(headKey("").length));

const headOf = (kept: SizedKeeper, log: string): Head | undefined => parsed(kept.get(headKey(log)));

const forget = (kept: SizedKeeper, log: string): void => {
  for (const key of [...kept.keys(entriesKey(log)), pendingKey(log), headKey(log)]) kept.remove(key);
  const heads = logsOf(kept).map((other) => headOf(kept, other));
  const wanted = heads.flatMap((head) => (head ? [documentKey(head.rig), documentKey(head.procedure)] : []));
  for (const key of kept.keys(documentKey(""))) if (!wanted.includes(key)) kept.remove(key);
};

/** The least recent other copies make way. Returns the codes of those that did. */
const makeRoom = (kept: SizedKeeper, needed: number, writing: string): readonly string[] => {
  if (kept.used() + needed <= JOURNAL_CHARACTERS) return [];
  const others = logsOf(kept)
    .filter((log) => log !== writing)
    .flatMap((log) => {
      const head = headOf(kept, log);
      return head ? [{ log, ...head }] : [];
    })
    .sort((a, b) => a.order - b.order);
  const gone: string[] = [];
  for (const { log, code } of others) {
    if (kept.used() + needed <= JOURNAL_CHARACTERS) break;
    forget(kept, log);
    gone.push(code);
  }
  if (kept.used() + needed > JOURNAL_CHARACTERS) throw new Error("it is full");
  return gone;
};

const guarded = <T>(work: () => Result<T>): Result<T> => {
  try {
    return work();
  } catch (fault) {
    const detail = `the phone's second copy cannot be used: ${String(fault)}`;
    const remedy = "The run itself is kept in the store; export it soon.";
    return failed(issue("journal-unusable", "second copy", detail, remedy));
  }
};

const write = (kept: SizedKeeper, log: string, key: string, text: string): Result<void> =>
  guarded(() => {
    const gone = makeRoom(kept, PREFIX.length + key.length + text.length, log);
    kept.set(key, text);
    if (gone.length === 0) return ok(undefined);
    const detail = `the second copy of ${gone.join(", ")} made way`;
    return failed(issue("journal-made-room", "second copy", detail, "Export these runs."));
  });

const open = (kept: SizedKeeper, log: string, code: string, documents: RunDocuments): Result<void> =>
  guarded(() => {
    if (headOf(kept, log)) return ok(undefined);
    const orders = logsOf(kept).map((other) => headOf(kept, other)?.order ?? 0);
    const parts = [documents.rig, documents.procedure].map(canonicalDocument);
    const issues = parts.flatMap((part) => (part.ok ? [] : part.issues));
    if (issues.length > 0) return failed(...issues);
    const [rig = "", procedure = ""] = parts.map((part) => (part.ok ? part.value : ""));
    const head: Head = {
      code,
      order: Math.max(0, ...orders) + 1,
      exportedThrough: -1,
      rig: digest(rig),
      procedure: digest(procedure),
    };
    // The head first: making room must know which documents are wanted.
    const written = [
      write(kept, log, headKey(log), JSON.stringify(head)),
      write(kept, log, documentKey(head.rig), rig),
      write(kept, log, documentKey(head.procedure), procedure),
    ];
    const found = written.flatMap((one) => (one.ok ? [] : one.issues));
    return found.length > 0 ? failed(...found) : ok(undefined);
  });

const read = (kept: SizedKeeper, log: string): Result<JournalRun | undefined> =>
  guarded(() => {
    const head = headOf(kept, log);
    const rig = head && parsed<RunDocuments["rig"]>(kept.get(documentKey(head.rig)));
    const procedure = head && parsed<RunDocuments["procedure"]>(kept.get(documentKey(head.procedure)));
    if (!head || !rig || !procedure) return ok(undefined);
    const entries = kept
      .keys(entriesKey(log))
      .flatMap((key) => parsed<Entry>(kept.get(key)) ?? [])
      .sort((a, b) => a.seq - b.seq);
    const pending = parsed<readonly LooseAct[]>(kept.get(pendingKey(log))) ?? [];
    const { code, exportedThrough } = head;
    return ok({ code, exportedThrough, documents: { rig, procedure }, entries, pending });
  });

const markExported = (kept: SizedKeeper, log: string, throughSeq: number): Result<void> =>
  guarded(() => {
    const head = headOf(kept, log);
    if (!head) return ok(undefined);
    for (const key of kept.keys(entriesKey(log)))
      if (Number(key.slice(entriesKey(log).length)) <= throughSeq) kept.remove(key);
    return write(kept, log, headKey(log), JSON.stringify({ ...head, exportedThrough: throughSeq }));
  });

/**
 * The journal on localStorage: synchronous, small, and lost in other ways than IndexedDB is. The
 * run being written always has room; the oldest other copies make way, and that is said.
 */
export const createLocalJournal = (keeper: TextKeeper): Journal => {
  let counted: SizedKeeper | undefined;
  // Counted at first use: a browser that forbids localStorage throws at the first touch.
  const kept = (): SizedKeeper => {
    counted ??= sizedKeeper(keeper, PREFIX);
    return counted;
  };

  return {
    open: (log, code, documents) => guarded(() => open(kept(), log, code, documents)),
    keep: (entry) =>
      guarded(() => write(kept(), entry.log, `${entriesKey(entry.log)}${entry.seq}`, JSON.stringify(entry))),
    setPending: (log, pending) =>
      guarded(() => {
        if (pending.length > 0) return write(kept(), log, pendingKey(log), JSON.stringify(pending));
        kept().remove(pendingKey(log));
        return ok(undefined);
      }),
    read: (log) => guarded(() => read(kept(), log)),
    logs: () => {
      const found = guarded(() => ok(logsOf(kept())));
      return found.ok ? found.value : [];
    },
    exported: (log, throughSeq) => {
      guarded(() => markExported(kept(), log, throughSeq));
    },
  };
};

/** A text keeper in memory, for tests and simulation. */
export const memoryTextKeeper = (texts: Map<string, string> = new Map()): TextKeeper => ({
  get length() {
    return texts.size;
  },
  key: (i) => [...texts.keys()][i] ?? null,
  getItem: (key) => texts.get(key) ?? null,
  setItem: (key, text) => void texts.set(key, text),
  removeItem: (key) => void texts.delete(key),
});
