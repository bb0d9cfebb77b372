import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { build, type Plugin } from "vite";
import { emittedFiles, missingFromWorker, precacheList } from "./precache-list.ts";

/**
 * Builds the service worker after the pages are written, with the list of what was really written. The list is
 * the folder, so no size limit and no pattern can leave a file out unseen (docs/decisions/offline-build.md).
 */
export function offlineCopy(): Plugin {
  let folder = "";
  return {
    name: "fourfast-offline-copy",
    apply: "build",
    configResolved(config) {
      folder = resolve(config.root, config.build.outDir);
    },
    closeBundle: {
      order: "post",
      sequential: true,
      async handler() {
        await buildWorker(folder);
        const missing = missingFromWorker(folder, readFileSync(join(folder, "service-worker.js"), "utf8"));
        if (missing.length > 0) this.error(`not kept for use offline: ${missing.join(", ")}`);
      },
    },
  };
}

async function buildWorker(folder: string): Promise<void> {
  if (emittedFiles(folder).length === 0) throw new Error(`nothing was built into ${folder}`);
  await build({
    configFile: false,
    publicDir: false,
    logLevel: "warn",
    // A library build leaves NODE_ENV alone, and workbox would bring its log along.
    define: { PRECACHE_LIST: JSON.stringify(precacheList(folder)), "process.env.NODE_ENV": '"production"' },
    build: {
      outDir: folder,
      emptyOutDir: false,
      target: "es2022",
      lib: {
        entry: new URL("../offline/service-worker.ts", import.meta.url).pathname,
        formats: ["iife"],
        name: "worker",
        fileName: () => "service-worker.js",
      },
    },
  });
}
