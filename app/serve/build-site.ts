import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { build } from "vite";

const house = new URL("../..", import.meta.url).pathname;

export const siteFolder = join(house, "dist", "site");

/** What the pages are made of. A folder's own time moves when a file is taken away. */
const sources = ["app", "core", "package-lock.json", "tsconfig.json"].map((name) => join(house, name));

/** The worker is written last, so a build that broke off is stale too. */
export function siteIsStale(folder: string): boolean {
  const written = statSync(join(folder, "service-worker.js"), { throwIfNoEntry: false });
  return written === undefined || sources.some((source) => newest_ms(source) > written.mtimeMs);
}

export async function buildSite(folder: string): Promise<void> {
  // Vite builds for whatever NODE_ENV says; under a test runner that would be an app without its offline copy.
  const before = process.env["NODE_ENV"];
  process.env["NODE_ENV"] = "production";
  try {
    await build({
      configFile: join(house, "app", "vite.config.ts"),
      logLevel: "warn",
      build: { outDir: folder, emptyOutDir: true },
    });
  } finally {
    if (before === undefined) delete process.env["NODE_ENV"];
    else process.env["NODE_ENV"] = before;
  }
}

function newest_ms(path: string): number {
  const found = statSync(path);
  if (!found.isDirectory()) return found.mtimeMs;
  return readdirSync(path).reduce(
    (newest, name) => Math.max(newest, newest_ms(join(path, name))),
    found.mtimeMs,
  );
}
