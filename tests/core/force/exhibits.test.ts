import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { reduceBytes } from "./synthetic/reduced.ts";

/** The worst that seeded mutations found, kept as files: what was made of them stays as it was looked at. */
type Exhibit = {
  readonly why: string;
  readonly outcome: "refused" | "nothing" | "number";
  readonly events: number;
  readonly codes: readonly string[];
  readonly setup: unknown;
};
const folder = new URL("../../exhibits/force/", import.meta.url);
const { exhibits }: { exhibits: Readonly<Record<string, Exhibit>> } = JSON.parse(
  readFileSync(new URL("exhibits.json", folder), "utf8"),
);

describe("an exhibit", () => {
  test("is one of ten", () => expect(Object.keys(exhibits)).toHaveLength(10));

  test.each(Object.entries(exhibits))("%s is judged as it was", (name, exhibit) => {
    const result = reduceBytes(new Uint8Array(readFileSync(new URL(name, folder))), exhibit.setup);
    const events = result.ok ? result.value.events : [];
    const codes = result.ok
      ? [...result.value.issues, ...events.flatMap((event) => event.warnings)].map((i) => i.code)
      : result.issues.map((i) => i.code);
    expect([...new Set(codes)].sort()).toEqual([...exhibit.codes].sort());
    expect(events).toHaveLength(exhibit.events);
    expect(result.ok).toBe(exhibit.outcome !== "refused");
  });
});
