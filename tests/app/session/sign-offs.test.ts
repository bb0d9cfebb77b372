import { expect, test } from "vitest";
import { keepSignOff, keptSignOffs } from "../../../app/session/sign-offs.ts";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { failed, issue } from "../../../core/result.ts";
import type { SignOff } from "../../../core/review/sign-off.ts";

const signed = (at: number): SignOff => ({
  format: "fourfast-review",
  version: 1,
  run: "H-1-1",
  log: "log",
  head: "0".repeat(64),
  by: "R1",
  at,
  verdict: "nothing-to-do",
  note: "",
});

test("every signature stays, the newest first, and what cannot be read is named", async () => {
  const files = createMemoryFileStore();
  expect(await keptSignOffs(files)).toEqual({ signed: [], faults: [] });
  await keepSignOff(files, signed(1));
  await keepSignOff(files, signed(2));
  const bytes = new TextEncoder().encode("{").buffer;
  await files.put({ name: "review-log-3.json", kind: "review", at: 3, bytes });
  const kept = await keptSignOffs(files);
  expect(kept.signed).toEqual([signed(2), signed(1)]);
  expect(kept.faults.map(({ where }) => where)).toEqual(["review-log-3.json, the file"]);
});

test("what the store says is said", async () => {
  const files = createMemoryFileStore();
  await keepSignOff(files, signed(1));
  const no = async () => failed(issue("store-unavailable", "files", "gone", "Wait."));
  expect((await keptSignOffs({ ...files, list: no })).faults[0]?.code).toBe("store-unavailable");
  expect((await keptSignOffs({ ...files, get: no })).faults[0]?.code).toBe("store-unavailable");
  expect((await keepSignOff({ ...files, put: no }, signed(2))).ok).toBe(false);
});
