import { clientsClaim } from "workbox-core";
import { createHandlerBoundToURL, getCacheKeyForURL, precacheAndRoute } from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";
import type { PrecacheReport } from "./messages.ts";

declare const self: ServiceWorkerGlobalScope;
/** Put in by app/serve/offline-copy.ts. */
declare const PRECACHE_LIST: { url: string; revision: string | null }[];

/**
 * Keeps the whole app on the device and answers from there first. It never takes over by itself: a new worker
 * waits until a person asks for it (update.ts), because an update under a run would change the ground under it.
 */
const kept = PRECACHE_LIST;
precacheAndRoute(kept, { ignoreURLParametersMatching: [/./] });

/** Addresses live behind the #, so the page is the scope itself; anything deeper is not ours to answer. */
const page = new RegExp(`^${escaped(new URL(self.registration.scope).pathname)}(index\\.html)?(\\?|$)`);
registerRoute(new NavigationRoute(createHandlerBoundToURL("index.html"), { allowlist: [page] }));

/** A first install has no run to disturb, and claiming makes the very first visit work offline. An update never claims. */
if (!self.registration.active) clientsClaim();

self.addEventListener("message", (event) => {
  if (event.data?.type === "SKIP_WAITING") event.waitUntil(self.skipWaiting());
  if (event.data?.type === "PRECACHE_REPORT") event.waitUntil(report(event.ports[0]));
});

async function report(port: MessagePort | undefined): Promise<void> {
  const missing: string[] = [];
  for (const { url } of kept) {
    const key = getCacheKeyForURL(url);
    if (!key || !(await caches.match(key))) missing.push(url);
  }
  port?.postMessage({ expected: kept.length, missing } satisfies PrecacheReport);
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
