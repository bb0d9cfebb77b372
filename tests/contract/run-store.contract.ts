import { describe, expect, test } from "vitest";
import { HERON } from "../../app/demo/documents.ts";
import type { RunStore } from "../../app/ports.ts";
import type { Entry } from "../../core/record/entry.ts";
import type { Result } from "../../core/result.ts";
import { SHORT_LOG, sealAll } from "../core/record/short-log.ts";

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
const codes = (result: Result<unknown>): readonly string[] =>
  result.ok ? [] : result.issues.map(({ code }) => code);
const first = SHORT_LOG[0] as Entry;

/** What every run store promises, whatever it is made of. `reopen` gives a second store on the same keeping. */
export const runStoreContract = (
  name: string,
  make: () => Promise<{ readonly store: RunStore; readonly reopen: () => RunStore }>,
): void => {
  describe(name, () => {
    const filled = async () => {
      const made = await make();
      value(await made.store.create("log1", "H-329-01", HERON));
      for (const entry of SHORT_LOG) value(await made.store.append(entry));
      return made;
    };

    test("gives back a run as it was written, in order, to another store on the same keeping too", async () => {
      const { store, reopen } = await filled();
      const run = { log: "log1", code: "H-329-01", documents: HERON, entries: SHORT_LOG };
      expect(value(await store.read("log1"))).toEqual(run);
      expect(value(await reopen().read("log1"))).toEqual(run);
    });

    test("keeps entries in the order of their number, past nine", async () => {
      const { store } = await make();
      const long = sealAll([
        first.event,
        ...Array.from({ length: 25 }, () => ({ type: "line-crossed" }) as const),
      ]);
      value(await store.create("log1", "H-329-01", HERON));
      for (const entry of long) value(await store.append(entry));
      expect(value(await store.read("log1")).entries.map(({ seq }) => seq)).toEqual(
        long.map(({ seq }) => seq),
      );
    });

    test("takes the same entry twice as once, and another one at its place never", async () => {
      const { store } = await filled();
      const last = SHORT_LOG[4] as Entry;
      expect(await store.append(last)).toEqual({ ok: true, value: undefined });
      const other = { ...last, hash: "0".repeat(64) };
      expect(codes(await store.append(other))).toEqual(["entry-exists"]);
      expect(value(await store.read("log1")).entries).toEqual(SHORT_LOG);
    });

    test("says that it holds no such run", async () => {
      const { store } = await make();
      expect(codes(await store.read("log9"))).toEqual(["run-not-found"]);
      expect(value(await store.list())).toEqual([]);
    });

    test("keeps two runs apart, though the id of one begins like the other's", async () => {
      const { store } = await filled();
      const other = sealAll([first.event, { type: "line-crossed" }], "log11");
      value(await store.create("log11", "H-329-02", HERON));
      for (const entry of other) value(await store.append(entry));
      expect(value(await store.read("log1")).entries).toEqual(SHORT_LOG);
      expect(value(await store.read("log11")).entries).toEqual(other);
    });

    test("lists each run with where it stands, and knows an ended one, even with notes after its end", async () => {
      const { store } = await filled();
      const ended = sealAll([first.event, { type: "close-called" }, { type: "noted", text: "late" }], "log2");
      value(await store.create("log2", "H-329-02", HERON));
      for (const entry of ended) value(await store.append(entry));
      const list = [...value(await store.list())].sort((a, b) => a.code.localeCompare(b.code));
      const common = { rigName: HERON.rig.name, openedAt: first.at };
      expect(list).toEqual([
        { log: "log1", code: "H-329-01", lastSeq: 4, open: true, ...common },
        { log: "log2", code: "H-329-02", lastSeq: 2, open: false, ...common },
      ]);
    });

    test("takes two ends of one run without complaint: reports may end what was ended", async () => {
      const { store } = await make();
      value(await store.create("log3", "H-329-03", HERON));
      const twice = sealAll(
        [first.event, { type: "close-called" }, { type: "scrub-called", why: "x" }],
        "log3",
      );
      for (const entry of twice) value(await store.append(entry));
      expect(value(await store.read("log3")).entries).toEqual(twice);
    });

    test("creates a run once: a second time changes nothing", async () => {
      const { store } = await filled();
      value(await store.create("log1", "X-001-01", HERON));
      expect(value(await store.read("log1")).code).toBe("H-329-01");
    });

    test("probes itself by writing and reading back, as often as it is asked", async () => {
      const { store } = await make();
      for (let i = 0; i < 3; i++) expect(await store.probe()).toEqual({ ok: true, value: undefined });
    });

    test("what it gave out can be changed without changing what it keeps", async () => {
      const { store } = await filled();
      const run = value(await store.read("log1"));
      (run.documents.rig as { name: string }).name = "changed";
      expect(value(await store.read("log1")).documents.rig.name).toBe(HERON.rig.name);
    });
  });
};
