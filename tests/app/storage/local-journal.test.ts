import { expect, test } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import {
  createLocalJournal,
  JOURNAL_CHARACTERS,
  memoryTextKeeper,
} from "../../../app/storage/local-journal.ts";
import type { Entry } from "../../../core/record/entry.ts";
import { SHORT_LOG, sealAll } from "../../core/record/short-log.ts";

const journalOn = (texts: Map<string, string>) => createLocalJournal(memoryTextKeeper(texts));
const sizeOf = (texts: Map<string, string>): number =>
  [...texts].reduce((sum, [key, text]) => sum + key.length + text.length, 0);

const pendingHold = {
  at: 1,
  mono: 2,
  session: "s",
  by: "C1",
  event: { type: "hold-called", why: "gust" },
} as const;

const filled = (texts = new Map<string, string>()) => {
  const journal = journalOn(texts);
  expect(journal.open("log1", "H-329-01", HERON).ok).toBe(true);
  for (const entry of SHORT_LOG) expect(journal.keep(entry).ok).toBe(true);
  expect(journal.setPending("log1", [pendingHold]).ok).toBe(true);
  return { texts, journal };
};

test("a second copy gives back documents, entries in order, and what was pending, to another page too", () => {
  const { texts } = filled();
  const read = journalOn(texts).read("log1");
  expect(read).toEqual({
    ok: true,
    value: {
      code: "H-329-01",
      documents: HERON,
      exportedThrough: -1,
      entries: SHORT_LOG,
      pending: [pendingHold],
    },
  });
  expect(journalOn(texts).logs()).toEqual(["log1"]);
});

test("pending is replaced as a whole, and gone when nothing is", () => {
  const { journal } = filled();
  journal.setPending("log1", []);
  const read = journal.read("log1");
  expect(read.ok && read.value?.pending).toEqual([]);
});

test("what an export carried away is let go; what comes after is kept", () => {
  const { journal } = filled();
  journal.exported("log1", 2);
  const read = journal.read("log1");
  expect(read.ok && read.value?.entries.map(({ seq }) => seq)).toEqual([3, 4]);
  expect(read.ok && read.value?.exportedThrough).toBe(2);
  journal.exported("log9", 2);
});

test("a run that is not there is not there, and opening twice changes nothing", () => {
  const { journal } = filled();
  expect(journal.read("log9")).toEqual({ ok: true, value: undefined });
  journal.exported("log1", 1);
  expect(journal.open("log1", "X", KINGFISHER)).toEqual({ ok: true, value: undefined });
  const read = journal.read("log1");
  expect(read.ok && read.value?.exportedThrough).toBe(1);
});

test("the documents of many runs on one stand are kept once", () => {
  const { texts, journal } = filled();
  const before = sizeOf(texts);
  journal.open("log2", "H-329-02", HERON);
  expect(sizeOf(texts) - before).toBeLessThan(500);
});

test("it never takes more than its megabyte: the oldest other run makes way, and that is said", () => {
  const texts = new Map<string, string>();
  const { journal } = filled(texts);
  journal.open("log2", "K-329-01", KINGFISHER);
  const long = (i: number): Entry =>
    ({ ...sealAll([{ type: "noted", text: "x".repeat(5000) }], "log2")[0], seq: i }) as Entry;
  const said: string[] = [];
  let count = 0;
  while (said.length === 0 && count < 200) {
    const kept = journal.keep(long(count));
    if (!kept.ok) said.push(...kept.issues.map(({ code, detail }) => `${code}: ${detail}`));
    expect(sizeOf(texts)).toBeLessThanOrEqual(JOURNAL_CHARACTERS);
    count += 1;
  }
  expect(said).toEqual(["journal-made-room: the second copy of H-329-01 made way"]);
  expect(journal.logs()).toEqual(["log2"]);
  const read = journal.read("log2");
  expect(read.ok && read.value?.entries.length).toBe(count);
  expect(read.ok && read.value?.documents).toEqual(KINGFISHER);
});

test("when nothing can make way it says that it is full, and keeps what it has", () => {
  const { journal } = filled();
  const huge = { ...(SHORT_LOG[0] as Entry), seq: 5, device: "x".repeat(JOURNAL_CHARACTERS) };
  expect(journal.keep(huge)).toMatchObject({ ok: false, issues: [{ code: "journal-unusable" }] });
  const read = journal.read("log1");
  expect(read.ok && read.value?.entries).toEqual(SHORT_LOG);
});

test("a browser that forbids localStorage, or a text that was damaged, is an issue and no exception", () => {
  const forbidden = createLocalJournal({
    get length(): number {
      throw new DOMException("denied", "SecurityError");
    },
    key: () => null,
    getItem: () => null,
    setItem: () => {},
    removeItem: () => {},
  });
  expect(forbidden.open("log1", "H", HERON)).toMatchObject({
    ok: false,
    issues: [{ code: "journal-unusable" }],
  });
  expect(forbidden.logs()).toEqual([]);
  const { texts } = filled();
  texts.set("fourfast-journal/pending/log1", "{half");
  expect(journalOn(texts).read("log1")).toMatchObject({ ok: false, issues: [{ code: "journal-unusable" }] });
});

test("a document that has no canonical form is refused with its place", () => {
  const journal = journalOn(new Map());
  const opened = journal.open("log1", "H", { ...HERON, rig: { ...HERON.rig, name: "\uD83D" } });
  expect(opened).toMatchObject({ ok: false, issues: [{ code: "value-unstable", where: "name" }] });
});

test("other keys of the same origin are left alone", () => {
  const texts = new Map([["theme", "night"]]);
  const { journal } = filled(texts);
  journal.exported("log1", 99);
  expect(texts.get("theme")).toBe("night");
});
