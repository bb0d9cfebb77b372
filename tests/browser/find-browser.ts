import { execFileSync, spawnSync } from "node:child_process";
import { accessSync, constants, existsSync } from "node:fs";
import { createRequire } from "node:module";
import { delimiter, join } from "node:path";
import { chromium } from "playwright-core";

const cache = new URL("../../.cache/browser/", import.meta.url).pathname;

/** 66 MB inside an npm package: the way out for a Linux machine without rights and without a browser. */
const packedBrowser = "@sparticuz/chromium@147.0.0";

const installedNames = ["chromium", "chromium-browser", "google-chrome-stable", "google-chrome"];
const installedPlaces = [
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe",
];

/**
 * Path of a Chromium to test with: the one named in $CHROME, an installed one, one fetched before, or one that
 * is fetched now.
 * @fails throws one line that names the command to run
 */
export async function findBrowser(): Promise<string> {
  const named = process.env["CHROME"];
  if (named) {
    if (isExecutable(named)) return named;
    throw new Error(
      `$CHROME is ${named}, which cannot be run; point it at a Chromium or Chrome, or unset it`,
    );
  }
  const found = installedBrowser() ?? (await packedBrowserPath()) ?? playwrightsOwn();
  if (found) return found;
  return (await install()) ?? noBrowser();
}

function installedBrowser(): string | undefined {
  const folders = (process.env["PATH"] ?? "").split(delimiter);
  const onPath = installedNames.flatMap((name) => folders.map((folder) => join(folder, name)));
  return [...onPath, ...installedPlaces].find(isExecutable);
}

async function packedBrowserPath(): Promise<string | undefined> {
  if (!existsSync(join(cache, "node_modules", "@sparticuz", "chromium"))) return undefined;
  const entry = createRequire(join(cache, "package.json")).resolve("@sparticuz/chromium");
  const loaded = await import(entry);
  const path: string = await loaded.default.executablePath();
  return isExecutable(path) ? path : undefined;
}

function playwrightsOwn(): string | undefined {
  const path = chromium.executablePath();
  return isExecutable(path) ? path : undefined;
}

async function install(): Promise<string | undefined> {
  if (process.platform !== "linux") return undefined;
  if (process.getuid?.() === 0 && existsSync("/usr/bin/apt-get")) {
    console.error("no browser found: installing Debian's chromium …");
    aptGet("update");
    aptGet("--no-install-recommends", "install", "chromium");
    const path = installedBrowser();
    if (path) return path;
  }
  if (process.arch !== "x64") return undefined;
  console.error(`no browser found: fetching ${packedBrowser} into .cache/browser …`);
  try {
    execFileSync("npm", ["install", "--prefix", cache, "--no-save", "--no-package-lock", packedBrowser], {
      stdio: "ignore",
    });
  } catch {
    return undefined;
  }
  return packedBrowserPath();
}

function aptGet(...args: string[]): void {
  spawnSync("apt-get", ["-o", "DPkg::Lock::Timeout=300", "-qq", "-y", ...args], {
    stdio: ["ignore", "ignore", "inherit"],
    env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
  });
}

function noBrowser(): never {
  throw new Error("no browser to test with; run: npx playwright-core install --with-deps chromium");
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
