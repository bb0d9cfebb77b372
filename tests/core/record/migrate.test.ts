import { expect, test } from "vitest";
import { type EntryStep, migrateEntry } from "../../../core/record/migrate.ts";

const steps: readonly EntryStep[] = [
  (entry) => ({ ...entry, v: 2, trail: ["one"] }),
  (entry) => ({ ...entry, v: 3, trail: [...(entry["trail"] as string[]), "two"] }),
];

test("an entry of this version is left as it is", () => {
  const entry = { v: 1, seq: 4 };
  expect(migrateEntry(entry, "entry 4")).toEqual({ ok: true, value: entry });
});

test("an older entry passes through every step in order, a younger one through those that are left", () => {
  expect(migrateEntry({ v: 1 }, "entry 0", steps)).toEqual({
    ok: true,
    value: { v: 3, trail: ["one", "two"] },
  });
  expect(migrateEntry({ v: 2, trail: [] }, "entry 0", steps)).toEqual({
    ok: true,
    value: { v: 3, trail: ["two"] },
  });
  expect(migrateEntry({ v: 3 }, "entry 0", steps)).toEqual({ ok: true, value: { v: 3 } });
});

test("too new is a result with its place, not an exception", () => {
  expect(migrateEntry({ v: 2 }, "line 7")).toMatchObject({
    ok: false,
    issues: [{ code: "entry-version-newer", where: "line 7" }],
  });
});

test.each([[undefined], ["1"], [1.5], [0]])("a version of %s is none", (version) => {
  expect(migrateEntry({ v: version }, "line 7")).toMatchObject({
    ok: false,
    issues: [{ code: "entry-version-unknown" }],
  });
});
