import { Workbox } from "workbox-window";
import type { UpdateControl } from "../ports.ts";
import { controlUpdates } from "./update.ts";

/** An installed app may stay open for days; coming back to it after this long is a reason to ask. */
const askAgainAfter_ms = 60 * 60 * 1000;
const lookForRunEvery_ms = 5000;

/** Registers the service worker of this build and keeps an eye on its successor. In development there is none. */
export function startUpdates(): UpdateControl {
  const container: ServiceWorkerContainer | undefined = navigator.serviceWorker;
  const workbox = new Workbox("./service-worker.js");
  const control = controlUpdates({
    locks: navigator.locks,
    skipWaiting: () => workbox.messageSkipWaiting(),
    onControllerChange(listener) {
      container?.addEventListener("controllerchange", listener);
      return () => container?.removeEventListener("controllerchange", listener);
    },
    delay: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
    reload: () => location.reload(),
  });
  if (!container || !import.meta.env.PROD) return control;

  // The very first install claims this page; only a change of an existing controller is a replacement.
  let controlled = container.controller !== null;
  container.addEventListener("controllerchange", () => {
    if (controlled) control.replacedElsewhere();
    controlled = true;
  });
  // A lazy part of the old version is gone from the device once another tab has updated.
  addEventListener("vite:preloadError", () => control.replacedElsewhere());
  workbox.addEventListener("waiting", () => void control.workerWaits());
  setInterval(() => void control.recheck(), lookForRunEvery_ms);
  askWhenSeenAgain(workbox);
  void workbox.register({ immediate: true }).catch(() => undefined);
  return control;
}

function askWhenSeenAgain(workbox: Workbox): void {
  let asked_ms = performance.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || performance.now() - asked_ms < askAgainAfter_ms) return;
    asked_ms = performance.now();
    workbox.update().catch(() => undefined); // without a network there is nothing to learn
  });
}
