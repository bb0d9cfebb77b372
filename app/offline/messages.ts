/** What the page and the service worker say to each other. SKIP_WAITING is workbox-window's own word. */
export interface PrecacheReport {
  expected: number;
  missing: string[];
}
