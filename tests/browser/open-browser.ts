import { type Browser, type BrowserContext, chromium } from "playwright-core";
import { findBrowser } from "./find-browser.ts";

/** Quiet: no call home, no first-run pages. A root user has no sandbox to give. */
export const browserFlags = [
  ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--no-first-run",
];

/** A browser without memory: for tests that start from nothing. */
export async function openBrowser(moreFlags: readonly string[] = []): Promise<Browser> {
  return chromium.launch({ executablePath: await findBrowser(), args: [...browserFlags, ...moreFlags] });
}

/** A browser with a profile on disk: for tests that kill it and come back. */
export async function openProfile(
  folder: string,
  options: Parameters<typeof chromium.launchPersistentContext>[1] = {},
): Promise<BrowserContext> {
  return chromium.launchPersistentContext(folder, {
    ...options,
    executablePath: await findBrowser(),
    args: [...browserFlags, ...(options.args ?? [])],
  });
}
