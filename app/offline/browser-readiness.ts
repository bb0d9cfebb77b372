import type { PrecacheReport } from "./messages.ts";
import type { ReadinessWorld } from "./readiness.ts";

type FromTheLog = Pick<ReadinessWorld, "logWritable" | "newestEntry_ms" | "lastExport_ms">;

/** The probes of `readiness.ts` against the browser at hand. What only the log knows is handed in. */
export function browserReadiness(fromTheLog: FromTheLog): ReadinessWorld {
  return {
    ...fromTheLog,
    precacheReport: askWorker,
    storagePersisted: async () => navigator.storage?.persisted?.(),
    wall_ms: () => Date.now(),
    expectedWall_ms: () => performance.timeOrigin + performance.now(),
    battery: async () => (navigator as WithBattery).getBattery?.(),
    installed: () =>
      matchMedia("(display-mode: standalone)").matches || (navigator as WithStandalone).standalone === true,
  };
}

/** Asks the browser to keep the records for good. The answer belongs in the log (FIELD: storage). */
export async function askToKeepStorage(): Promise<boolean> {
  return (await navigator.storage?.persist?.()) ?? false;
}

async function askWorker(): Promise<PrecacheReport | undefined> {
  const worker = navigator.serviceWorker?.controller;
  if (!worker) return undefined;
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = (event) => {
      resolve(event.data);
      port1.close();
    };
    worker.postMessage({ type: "PRECACHE_REPORT" }, [port2]);
  });
}

/** Chromium alone has a battery to read. */
interface WithBattery {
  getBattery?(): Promise<{ level: number; charging: boolean }>;
}
/** Safari's own word for an app on the home screen. */
interface WithStandalone {
  standalone?: boolean;
}
