import { expect, test, vi } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import type { Handed } from "../../../app/ports.ts";
import { runCarrier } from "../../../app/session/carry-run.ts";
import type { LiveRun } from "../../../app/session/live-run.ts";
import { failed, issue, ok, type Result } from "../../../core/result.ts";
import { nominalLog } from "../../core/record/short-log.ts";

const entries = nominalLog();
const carried = (outcome: Result<Handed>) => {
  const kept = new Map<string, string>();
  const share = vi.fn(async (_name: string, _text: string) => outcome);
  const exported = vi.fn();
  const keep = vi.fn(async () => ok(undefined));
  const view = () => ({ code: "H-329-01", log: "log1", ...HERON, entries });
  const carrier = runCarrier({
    transfer: { share, save: () => outcome },
    journal: { exported },
    preferences: { read: (key) => kept.get(key), write: (key, value) => void kept.set(key, value) },
    now_ms: () => 77,
  });
  return { carrier, share, exported, keep, run: { view, keep } as unknown as LiveRun };
};

test("a copy that left is logged, dated, and makes room in the second copy", async () => {
  const { carrier, share, exported, keep, run } = carried(ok("handed"));
  expect(carrier.lastCopy_ms()).toBeUndefined();
  expect(await carrier.hand(run, "share")).toBe("A copy has left this device. The run stays here too.");
  expect(share.mock.calls[0]?.[0]).toBe("fourfast-H-329-01.txt");
  expect(exported).toHaveBeenCalledExactlyOnceWith("log1", entries.length - 1);
  expect(keep).toHaveBeenCalledExactlyOnceWith("shared", "given to the share sheet");
  expect(carrier.lastCopy_ms()).toBe(77);
});

test.each([
  [ok<Handed>("cancelled"), "Not shared: the sheet was closed."],
  [ok<Handed>("not-supported"), "This browser shares no files: save it instead."],
  [failed(issue("share-refused", "x", "it was busy", "save it")), "It was busy. Save it."],
])("a copy that did not leave is said, and nothing is noted of it", async (outcome, words) => {
  const { carrier, exported, keep, run } = carried(outcome);
  expect(await carrier.hand(run, "save")).toBe(words);
  expect(exported).not.toHaveBeenCalled();
  expect(keep).not.toHaveBeenCalled();
  expect(carrier.lastCopy_ms()).toBeUndefined();
});

test("the share sheet is asked in the tap itself, before anything is awaited", () => {
  const { carrier, share, run } = carried(ok("handed"));
  void carrier.hand(run, "share");
  expect(share).toHaveBeenCalledOnce();
});

test("codes that another device read count as a copy, also where the run is not open here", async () => {
  const { carrier, exported } = carried(ok("handed"));
  await carrier.noteCopy({ log: "log1", entries: 5, words: "read as codes" }, undefined);
  expect(exported).toHaveBeenCalledExactlyOnceWith("log1", 4);
  expect(carrier.lastCopy_ms()).toBe(77);
});
