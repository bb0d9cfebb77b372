/**
 * Under the page's policy (app/serve/headers.ts) a string becomes script only through here. Our own workers and
 * the service worker are files of this origin; everything else, and all HTML made from strings, stays refused.
 */
interface PolicyFactory {
  createPolicy(name: "default", rules: { createScriptURL(url: string): string | null }): unknown;
}

export function allowOwnScripts(place: { trustedTypes?: PolicyFactory; location: { href: string } }): void {
  const origin = new URL(place.location.href).origin;
  place.trustedTypes?.createPolicy("default", {
    createScriptURL: (url) => (new URL(url, place.location.href).origin === origin ? url : null),
  });
}
