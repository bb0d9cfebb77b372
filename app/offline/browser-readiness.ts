import type { Readiness } from "../ports.ts";
import type { PrecacheReport } from "./messages.ts";
import { probeReadiness, type ReadinessWorld } from "./readiness.ts";

const browser: ReadinessWorld = {
  precacheReport: askWorker,
  storagePersisted: async () => navigator.storage?.persisted?.(),
  wall_ms: () => Date.now(),
  expectedWall_ms: () => performance.timeOrigin + performance.now(),
  battery: async () => (navigator as WithBattery).getBattery?.(),
  installed: () =>
    matchMedia("(display-mode: standalone)").matches || (navigator as WithStandalone).standalone === true,
};

/** The readiness of this device, as its browser tells it. */
export const browserReadiness: Readiness = {
  probe: (fromLog) => probeReadiness(browser, fromLog),
  askToKeepStorage: async () => (await navigator.storage?.persist?.()) ?? false,
};

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
