import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { TestProject } from "vitest/node";
import { buildSite } from "../../app/serve/build-site.ts";

declare module "vitest" {
  interface ProvidedContext {
    /** The built pages, for `serveSite`. */
    siteFolder: string;
  }
}

/** Builds the pages once, apart from dist/, so that a build made meanwhile does not change them under a test. */
export default async function builtSite(project: TestProject): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), "fourfast-site-"));
  await buildSite(folder);
  project.provide("siteFolder", folder);
  return () => rmSync(folder, { recursive: true, force: true });
}
