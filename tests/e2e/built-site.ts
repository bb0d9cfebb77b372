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

const folder = mkdtempSync(join(tmpdir(), "fourfast-site-"));

/** Builds the pages once, apart from dist/, so that a build made meanwhile does not change them under a test. */
export async function setup(project: TestProject): Promise<void> {
  await buildSite(folder);
  project.provide("siteFolder", folder);
}

export function teardown(): void {
  rmSync(folder, { recursive: true, force: true });
}
