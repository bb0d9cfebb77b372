import { defineConfig, type Plugin } from "vite";
import { metaPolicy } from "./serve/headers.ts";
import { offlineCopy } from "./serve/offline-copy.ts";

export default defineConfig({
  root: new URL(".", import.meta.url).pathname,
  base: "./",
  build: {
    outDir: "../dist/site",
    emptyOutDir: true,
    target: "es2022",
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    reportCompressedSize: false,
  },
  worker: { format: "es" },
  plugins: [policyInPage(), offlineCopy()],
});

/** Only in the build: the development server needs inline styles and a socket of its own. */
function policyInPage(): Plugin {
  return {
    name: "fourfast-policy-in-page",
    apply: "build",
    transformIndexHtml: () => [
      {
        tag: "meta",
        attrs: { "http-equiv": "Content-Security-Policy", content: metaPolicy },
        injectTo: "head-prepend",
      },
    ],
  };
}
