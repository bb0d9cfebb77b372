import { describe, expect, test, vi } from "vitest";
import {
  earliestWall_ms,
  probeLimit_ms,
  probeReadiness,
  type ReadinessWorld,
} from "../../../app/offline/readiness.ts";
import type { ReadinessFromLog, ReadinessItem } from "../../../app/ports.ts";

const now_ms = earliestWall_ms + 100 * 86_400_000;

const sound: ReadinessWorld & ReadinessFromLog = {
  precacheReport: async () => ({ expected: 12, missing: [] }),
  storagePersisted: async () => true,
  logWritable: async () => true,
  wall_ms: () => now_ms,
  expectedWall_ms: () => now_ms,
  battery: async () => ({ level: 0.4, charging: false }),
  installed: () => true,
  newestEntry_ms: now_ms - 1000,
  lastExport_ms: now_ms - 7 * 86_400_000,
};

async function item(code: ReadinessItem["code"], change: Partial<typeof sound>): Promise<ReadinessItem> {
  const items = await probeReadiness({ ...sound, ...change }, { ...sound, ...change });
  const found = items.find((candidate) => candidate.code === code);
  if (!found) throw new Error(`no item ${code}`);
  return found;
}

test("a sound device is ready in every point", async () => {
  expect((await probeReadiness(sound, sound)).map(({ code, verdict }) => `${code} ${verdict}`)).toEqual([
    "offline-copy ready",
    "storage-kept ready",
    "log-writable ready",
    "clock ready",
    "battery ready",
    "installed ready",
    "last-export ready",
  ]);
});

describe("the offline copy", () => {
  test("is not ready with one file missing, and names it", async () => {
    const found = await item("offline-copy", {
      precacheReport: async () => ({ expected: 12, missing: ["assets/bench.js"] }),
    });
    expect(found).toEqual({
      code: "offline-copy",
      verdict: "not-ready",
      expected: 12,
      missing: ["assets/bench.js"],
    });
  });
  test("is not ready before a service worker is in charge", async () => {
    expect((await item("offline-copy", { precacheReport: async () => undefined })).verdict).toBe("not-ready");
  });
});

test("a log that cannot be written, or whose probe breaks, is not ready", async () => {
  expect((await item("log-writable", { logWritable: async () => false })).verdict).toBe("not-ready");
  const broken = () => Promise.reject(new Error("Connection to Indexed Database server lost"));
  expect((await item("log-writable", { logWritable: broken })).verdict).toBe("not-ready");
});

test("a log probe that hangs is not ready after the watchdog's time", async () => {
  vi.useFakeTimers();
  const hanging = item("log-writable", { logWritable: () => new Promise(() => {}) });
  await vi.advanceTimersByTimeAsync(probeLimit_ms);
  expect((await hanging).verdict).toBe("not-ready");
  vi.useRealTimers();
});

describe("the clock", () => {
  test.each([
    ["before-release", { wall_ms: () => earliestWall_ms - 1 }],
    ["before-newest-entry", { newestEntry_ms: now_ms + 1 }],
    ["moved-back", { expectedWall_ms: () => now_ms + 501 }],
  ] as const)("is not ready when it is wrong: %s", async (fault, change) => {
    expect(await item("clock", change)).toEqual({ code: "clock", verdict: "not-ready", fault });
  });
  test("may run ahead of the monotonic clock, which sleeps", async () => {
    expect((await item("clock", { expectedWall_ms: () => now_ms - 3_600_000 })).verdict).toBe("ready");
  });
});

describe("what a run can do without is said, not demanded", () => {
  test("storage the browser may clear", async () => {
    expect((await item("storage-kept", { storagePersisted: async () => false })).verdict).toBe("attention");
    expect((await item("storage-kept", { storagePersisted: async () => undefined })).verdict).toBe("unknown");
  });
  test("a battery under 40 % that is not charging", async () => {
    const low = { level: 0.39, charging: false };
    expect((await item("battery", { battery: async () => low })).verdict).toBe("attention");
    expect((await item("battery", { battery: async () => ({ ...low, charging: true }) })).verdict).toBe(
      "ready",
    );
    expect((await item("battery", { battery: async () => undefined })).verdict).toBe("unknown");
  });
  test("a tab instead of an installed app", async () => {
    expect((await item("installed", { installed: () => false })).verdict).toBe("attention");
  });
  test("records that were never copied elsewhere, or not for more than seven days", async () => {
    expect((await item("last-export", { lastExport_ms: undefined })).verdict).toBe("attention");
    expect(await item("last-export", { lastExport_ms: now_ms - 8 * 86_400_000 })).toMatchObject({
      verdict: "attention",
      age_days: 8,
    });
    expect((await item("last-export", { lastExport_ms: undefined, newestEntry_ms: undefined })).verdict).toBe(
      "ready",
    );
  });
});
