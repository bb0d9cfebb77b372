/**
 * What the pages may load: this app and nothing else. The build puts
 * the policy into index.html, so it holds on hosts where nobody can set a header; a server repeats it as a
 * header, because `frame-ancestors` counts only there.
 *
 * Trusted Types turns every string that could become script into an error; the single policy in
 * app/trusted-scripts.ts lets our own workers through.
 */
const policy: Record<string, string> = {
  "default-src": "'none'",
  "script-src": "'self'",
  "style-src": "'self'",
  "img-src": "'self' data: blob:",
  "media-src": "'self' blob:",
  "connect-src": "'self'",
  "manifest-src": "'self'",
  "worker-src": "'self'",
  "base-uri": "'none'",
  "form-action": "'none'",
  "require-trusted-types-for": "'script'",
  "trusted-types": "default",
};

const inWords = (directives: Record<string, string>) =>
  Object.entries(directives)
    .map(([name, value]) => `${name} ${value}`)
    .join("; ");

export const metaPolicy = inWords(policy);

export const securityHeaders: Readonly<Record<string, string>> = {
  "Content-Security-Policy": inWords({ ...policy, "frame-ancestors": "'none'" }),
  "Permissions-Policy": "camera=(self), microphone=(), geolocation=(), display-capture=()",
  "Referrer-Policy": "no-referrer",
  "X-Content-Type-Options": "nosniff",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
};
