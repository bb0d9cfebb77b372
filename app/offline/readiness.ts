import type { ReadinessFromLog, ReadinessItem } from "../ports.ts";
import type { PrecacheReport } from "./messages.ts";

/** Battery left for a session in the sun, screen at full brightness. */
export const batteryWanted_percent = 40;
/** A Safari tab forgets everything after seven days without use (WebKit blog 10218); a copy elsewhere should be younger. */
export const exportWanted_days = 7;
/** A probe that hangs is an answer too: iOS can leave an open request hanging for good (dexie#2296). */
export const probeLimit_ms = 3000;
/** No clock can truly show less than this: the app did not exist. */
export const earliestWall_ms = Date.UTC(2025, 0, 1);
/** Two clocks of one device never agree to the millisecond; a person moving the clock moves it by more than this. */
const clockSlack_ms = 500;

/** What the probes ask the browser; undefined is "this browser does not say". */
export interface ReadinessWorld {
  /** undefined: no service worker is in charge yet. */
  precacheReport(): Promise<PrecacheReport | undefined>;
  storagePersisted(): Promise<boolean | undefined>;
  wall_ms(): number;
  /** Wall time of the page's start plus what the monotonic clock counted since. */
  expectedWall_ms(): number;
  battery(): Promise<{ level: number; charging: boolean } | undefined>;
  installed(): boolean;
}

/** The probes behind `Readiness` of app/ports.ts, against a world that a test can be. */
export async function probeReadiness(world: ReadinessWorld, log: ReadinessFromLog): Promise<ReadinessItem[]> {
  const [report, persisted, writable, battery] = await Promise.all([
    inTime(() => world.precacheReport()),
    inTime(() => world.storagePersisted()),
    inTime(() => log.logWritable()),
    inTime(() => world.battery()),
  ]);
  return [
    offlineCopy(report),
    {
      code: "storage-kept",
      verdict: persisted === undefined ? "unknown" : persisted ? "ready" : "attention",
    },
    { code: "log-writable", verdict: writable ? "ready" : "not-ready" },
    clock(world, log.newestEntry_ms),
    batteryItem(battery),
    { code: "installed", verdict: world.installed() ? "ready" : "attention" },
    lastExport(world.wall_ms(), log),
  ];
}

/** Undefined where the probe fails or takes too long. */
async function inTime<T>(probe: () => Promise<T>): Promise<T | undefined> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), probeLimit_ms);
  });
  try {
    return await Promise.race([probe(), late]);
  } catch {
    return undefined;
  } finally {
    clearTimeout(timer);
  }
}

function offlineCopy(report: PrecacheReport | undefined): ReadinessItem {
  if (!report) return { code: "offline-copy", verdict: "not-ready", expected: 0, missing: [] };
  return { code: "offline-copy", verdict: report.missing.length === 0 ? "ready" : "not-ready", ...report };
}

/** The monotonic clock stops in sleep, so a wall clock that is ahead of it proves nothing; one that is behind was moved. */
function clock(world: ReadinessWorld, newestEntry_ms: number | undefined): ReadinessItem {
  const wall_ms = world.wall_ms();
  const fault =
    wall_ms < earliestWall_ms
      ? "before-release"
      : newestEntry_ms !== undefined && wall_ms < newestEntry_ms
        ? "before-newest-entry"
        : wall_ms < world.expectedWall_ms() - clockSlack_ms
          ? "moved-back"
          : null;
  return { code: "clock", verdict: fault === null ? "ready" : "not-ready", fault };
}

function batteryItem(battery: { level: number; charging: boolean } | undefined): ReadinessItem {
  if (!battery) return { code: "battery", verdict: "unknown", level_percent: null, charging: false };
  const level_percent = Math.round(battery.level * 100);
  const enough = battery.charging || level_percent >= batteryWanted_percent;
  return {
    code: "battery",
    verdict: enough ? "ready" : "attention",
    level_percent,
    charging: battery.charging,
  };
}

/** With nothing recorded there is nothing to lose. */
function lastExport(wall_ms: number, { newestEntry_ms, lastExport_ms }: ReadinessFromLog): ReadinessItem {
  if (lastExport_ms === undefined) {
    return {
      code: "last-export",
      verdict: newestEntry_ms === undefined ? "ready" : "attention",
      age_days: null,
    };
  }
  const age_days = Math.max(0, Math.floor((wall_ms - lastExport_ms) / 86_400_000));
  return { code: "last-export", verdict: age_days > exportWanted_days ? "attention" : "ready", age_days };
}
