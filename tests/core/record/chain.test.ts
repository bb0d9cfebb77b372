import { createHash } from "node:crypto";
import { fc, test as property } from "@fast-check/vitest";
import { expect, test } from "vitest";
import { appendEntry } from "../../../core/record/append.ts";
import { canonicalDocument, canonicalEntry } from "../../../core/record/canonical.ts";
import { digest, NOTHING_BEFORE, spokenDigest } from "../../../core/record/digest.ts";
import type { Entry } from "../../../core/record/entry.ts";
import { verifyEntries } from "../../../core/record/verify.ts";
import { draft, OPENED, SHORT_LOG, sealAll } from "./short-log.ts";

const codes = (result: ReturnType<typeof verifyEntries>): readonly string[] =>
  result.ok ? [] : result.issues.map(({ code, where }) => `${code} at ${where}`);

const at = (i: number): Entry => {
  const entry = SHORT_LOG[i];
  if (!entry) throw new Error(`the short log has no entry ${i}`);
  return entry;
};

test("the canonical form is that of RFC 8785: its own examples of order, numbers and escapes", () => {
  // Recomputed from RFC 8785 section 3.2.2 and 3.2.3, from memory of the document.
  const text = canonicalDocument({
    numbers: [1e30, 4.5, 2e-3, 1e-27],
    string: '€$\u000F\nA\'B"\\"/',
    literals: [true, false],
  });
  expect(text).toEqual({
    ok: true,
    value:
      '{"literals":[true,false],"numbers":[1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\"/"}',
  });
});

property.prop([fc.jsonValue({ noUnicodeString: false } as never)])(
  "one value has one text, whatever the order of its keys",
  (value) => {
    const text = canonicalDocument(value);
    if (!text.ok) return;
    expect(canonicalDocument(JSON.parse(text.value))).toEqual(text);
  },
);

test.each([
  ["a fraction", { event: { gap_ms: 1.5 } }, "event.gap_ms"],
  ["a number beyond what every machine reads alike", { at: 2 ** 53 }, "at"],
  ["half of a character", { why: "ab\uD83D" }, "why"],
  ["half of a character in a key", { "\uDE00": 1 }, ""],
  ["null", { answer: null }, "answer"],
  ["undefined", { answer: undefined }, "answer"],
  ["undefined in a list", { missing: ["a", undefined] }, "missing[1]"],
])("an entry with %s has no canonical form, and the place is named", (_what, value, where) => {
  expect(canonicalEntry(value)).toMatchObject({ ok: false, issues: [{ code: "value-unstable", where }] });
});

test("every fault is listed, not the first alone", () => {
  const text = canonicalEntry({ a: 1.5, b: ["\uD800", null] });
  expect(text.ok ? [] : text.issues.map(({ where }) => where)).toEqual(["a", "b[0]", "b[1]"]);
});

test("a document may hold fractions, but nothing that is no number", () => {
  expect(canonicalDocument({ capacity_m3: 0.0015 })).toEqual({ ok: true, value: '{"capacity_m3":0.0015}' });
  expect(canonicalDocument({ a: Number.NaN }).ok).toBe(false);
  expect(canonicalDocument({ a: Number.POSITIVE_INFINITY }).ok).toBe(false);
});

test("what nests without end is refused before it is walked", () => {
  let deep: unknown = 1;
  for (let i = 0; i < 40; i++) deep = [deep];
  const text = canonicalDocument(deep);
  expect(text).toMatchObject({ ok: false, issues: [{ code: "value-too-deep" }] });
});

test("the digest is SHA-256: node:crypto finds the same", () => {
  for (const text of ["", "abc", "Düse 21,7 mm €"]) {
    expect(digest(text)).toBe(createHash("sha256").update(text).digest("hex"));
    expect(digest(new TextEncoder().encode(text))).toBe(digest(text));
  }
  expect(spokenDigest(digest("abc"))).toBe("ba78 16bf");
});

test("each entry is numbered and sealed to the one before; the first to nothing", () => {
  expect(SHORT_LOG.map(({ seq }) => seq)).toEqual([0, 1, 2, 3, 4]);
  expect(SHORT_LOG[0]?.prev).toBe(NOTHING_BEFORE);
  for (const [i, entry] of SHORT_LOG.entries()) {
    if (i > 0) expect(entry.prev).toBe(at(i - 1).hash);
    const { hash, ...open } = entry;
    const text = canonicalEntry(open);
    expect(text.ok && createHash("sha256").update(text.value).digest("hex")).toBe(hash);
  }
});

test("an entry that has no canonical form is not sealed", () => {
  const sealed = appendEntry(undefined, draft({ type: "noted", text: "\uD83D" }));
  expect(sealed).toMatchObject({ ok: false, issues: [{ where: "event.text" }] });
});

test("an untouched log verifies, and so does its end after the entry before it", () => {
  expect(verifyEntries(SHORT_LOG)).toEqual({ ok: true, value: SHORT_LOG });
  expect(verifyEntries(SHORT_LOG.slice(2), undefined, at(1)).ok).toBe(true);
  expect(verifyEntries([]).ok).toBe(true);
});

test("a changed word is found at its entry, and nowhere else", () => {
  const changed = SHORT_LOG.map((entry) =>
    entry.seq === 3 ? { ...entry, event: { ...OPENED, run: "X" } as const } : entry,
  );
  expect(codes(verifyEntries(changed))).toEqual(["entry-changed at entry 3"]);
});

test("an entry that was changed and sealed again is betrayed by the one after it", () => {
  const resealed = appendEntry(at(1), { ...draft({ type: "noted", text: "never" }), at: at(2).at });
  const log = resealed.ok ? [at(0), at(1), resealed.value, at(3), at(4)] : [];
  expect(codes(verifyEntries(log))).toEqual(["entry-unlinked at entry 3"]);
});

test("a missing entry, a repeated one and two that changed places are named by number", () => {
  expect(codes(verifyEntries([at(0), at(2), at(3)]))).toEqual(["entry-out-of-order at entry 1"]);
  expect(codes(verifyEntries([at(0), at(1), at(1)]))).toEqual(["entry-out-of-order at entry 2"]);
  expect(codes(verifyEntries([at(0), at(2), at(1)])).length).toBe(2);
  expect(codes(verifyEntries(SHORT_LOG.slice(1)))).toContain("entry-out-of-order at entry 0");
});

test("an entry of another log does not belong, though it fits by number", () => {
  const other = sealAll([OPENED, { type: "line-crossed" }], "log2");
  const mixed = [at(0), ...other.slice(1)];
  expect(codes(verifyEntries(mixed))).toEqual([
    "entry-of-another-log at entry 1",
    "entry-unlinked at entry 1",
  ]);
  expect(codes(verifyEntries(other, undefined, undefined, "log1"))).toEqual([
    "entry-of-another-log at entry 0",
    "entry-of-another-log at entry 1",
  ]);
});

test("an entry whose content has no canonical form is a fault with its place, not an exception", () => {
  const broken = { ...at(0), at: 0.5 };
  expect(codes(verifyEntries([broken]))).toEqual(["value-unstable at entry 0, at"]);
});

property.prop([
  fc.nat({ max: SHORT_LOG.length - 1 }),
  fc.constantFrom("at", "mono", "by", "device", "session", "event", "prev", "hash", "seq", "log"),
])("no field of any entry can change unseen", (seq, field) => {
  const changed = SHORT_LOG.map((entry) => {
    if (entry.seq !== seq) return entry;
    const value = entry[field as keyof Entry];
    const other =
      typeof value === "number"
        ? value + 1
        : typeof value === "string"
          ? `${value.slice(0, -1)}${value.endsWith("0") ? "1" : "0"}`
          : { type: "line-crossed" };
    return { ...entry, [field]: other } as Entry;
  });
  const verified = verifyEntries(changed);
  expect(verified.ok).toBe(false);
  if (!verified.ok) expect(verified.issues.some(({ where }) => where.startsWith("entry"))).toBe(true);
});
