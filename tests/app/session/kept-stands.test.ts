import { beforeEach, expect, test } from "vitest";
import { WRITTEN, WRITTEN_HERON } from "../../../app/demo/written.ts";
import type { Preferences } from "../../../app/ports.ts";
import { keepStand, keptStands, putAway, standDigest } from "../../../app/session/kept-stands.ts";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import type { WrittenDocuments } from "../../../core/procedure/rig-numbers.ts";
import { failed, issue, type Result } from "../../../core/result.ts";

const kestrel = (revision = 1, limit_Pa = 500_000): WrittenDocuments => ({
  rig: {
    ...WRITTEN_HERON.rig,
    id: "kestrel",
    name: "Kestrel",
    bottle: { ...WRITTEN_HERON.rig.bottle, limit_Pa },
  },
  written: { ...WRITTEN_HERON.written, id: "kestrel-run", forRig: "kestrel", revision },
});

let chosen: Map<string, string>;
let ports: { files: ReturnType<typeof createMemoryFileStore>; preferences: Preferences };
beforeEach(() => {
  chosen = new Map();
  ports = {
    files: createMemoryFileStore(),
    preferences: { read: (key) => chosen.get(key), write: (key, to) => void chosen.set(key, to) },
  };
});
const keep = (documents: WrittenDocuments, at = 1) => keepStand(ports, { documents, at, shipped: WRITTEN });
const codes = (result: Result<unknown>) => (result.ok ? [] : result.issues.map(({ code }) => code));
const inForce = async () =>
  (await keptStands(ports)).stands.map(({ rig, written }) => [rig.id, written.revision]);

test("a device without stands of its own has none, and no fault", async () => {
  expect(await keptStands(ports)).toEqual({ stands: [], away: [], faults: [] });
});

test("a stand that is kept is offered, under the mark that every device gives it", async () => {
  const done = await keep(kestrel());
  const { stands } = await keptStands(ports);
  expect(stands).toEqual([{ ...kestrel(), digest: standDigest(kestrel()) }]);
  expect(done.ok && done.value.digest).toBe(standDigest(kestrel()));
});

test("the version that was kept last is in force, an older one when it is kept again", async () => {
  await keep(kestrel(1), 1);
  await keep(kestrel(2), 2);
  expect(await inForce()).toEqual([["kestrel", 2]]);
  await keep(kestrel(1), 3);
  expect(await inForce()).toEqual([["kestrel", 1]]);
});

test("where the choice is lost the newest counts", async () => {
  await keep(kestrel(2), 2);
  await keep(kestrel(1), 1);
  chosen.clear();
  expect(await inForce()).toEqual([["kestrel", 2]]);
});

test("what is put away is no longer offered, and comes back as it was", async () => {
  await keep(kestrel(2), 2);
  await keep(kestrel(1), 3);
  putAway(ports, "kestrel", true);
  expect(await inForce()).toEqual([]);
  expect((await keptStands(ports)).away.map(({ written }) => written.revision)).toEqual([1]);
  putAway(ports, "kestrel", false);
  expect(await inForce()).toEqual([["kestrel", 1]]);
  putAway(ports, "kestrel", true);
  await keep(kestrel(3), 4);
  expect(await inForce()).toEqual([["kestrel", 3]]);
});

test("an invented stand's id is not given to another", async () => {
  expect(codes(await keep(WRITTEN_HERON))).toEqual(["stand-id-taken"]);
  const loud = { ...WRITTEN_HERON, rig: { ...WRITTEN_HERON.rig, id: "HERON" } };
  expect(codes(await keep(loud))).toEqual(["stand-id-taken"]);
  expect((await keptStands(ports)).stands).toEqual([]);
});

test("a procedure that says otherwise under the same revision is refused", async () => {
  await keep(kestrel(1));
  const other = kestrel(1);
  const reworded = { ...other, written: { ...other.written, title: "Another way" } };
  expect(codes(await keep(reworded))).toEqual(["revision-used"]);
  putAway(ports, "kestrel", true);
  expect(codes(await keep(reworded)), "put away is not forgotten").toEqual(["revision-used"]);
  const raised = { ...reworded, written: { ...reworded.written, revision: 2 } };
  expect((await keep(raised)).ok).toBe(true);
});

test("two texts never bear one revision, whichever of them is in force; an approval is no other text", async () => {
  await keep(kestrel(1), 1);
  await keep(kestrel(2), 2);
  const first = kestrel(1);
  const other = { ...first, written: { ...first.written, title: "Other words" } };
  expect(codes(await keep(other, 3))).toEqual(["revision-used"]);
  const { approvedBy: _, ...draft } = kestrel(3).written;
  await keep({ ...kestrel(3), written: draft }, 4);
  expect((await keep(kestrel(3), 5)).ok).toBe(true);
  expect((await keptStands(ports)).stands[0]?.written.approvedBy).toBe(WRITTEN_HERON.written.approvedBy);
});

test("the same procedure on a rig with another number needs no new revision", async () => {
  await keep(kestrel(1));
  expect((await keep(kestrel(1, 450_000), 2)).ok).toBe(true);
  expect((await keptStands(ports)).stands[0]?.rig.bottle.limit_Pa).toBe(450_000);
});

test("what the store says is said, and a file that cannot be read hides no other", async () => {
  const list = await keptStands({
    ...ports,
    files: { ...ports.files, list: async () => failed(issue("store-unavailable", "files", "gone", "Wait.")) },
  });
  expect(list).toMatchObject({ stands: [], faults: [{ code: "store-unavailable" }] });
  await keep(kestrel());
  const bytes = new TextEncoder().encode('{"format":"fourfast-stand","version":7}').buffer;
  await ports.files.put({ name: "stand-newer.json", kind: "stand", at: 1, bytes });
  const { stands, faults } = await keptStands(ports);
  expect(stands.map(({ rig }) => rig.id)).toEqual(["kestrel"]);
  expect(faults.map(({ code, where }) => `${code} ${where}`)).toContain(
    "stand-unreadable stand-newer.json, version",
  );
  const full = {
    ...ports.files,
    put: async () => failed(issue("store-full", "files", "full", "Make room.")),
  };
  expect(
    codes(await keepStand({ ...ports, files: full }, { documents: kestrel(2), at: 2, shipped: [] })),
  ).toEqual(["store-full"]);
  const lost = { ...ports.files, get: async () => failed(issue("file-changed", "x", "changed", "Again.")) };
  expect((await keptStands({ ...ports, files: lost })).faults.map(({ code }) => code)).toEqual([
    "file-changed",
    "file-changed",
  ]);
});
