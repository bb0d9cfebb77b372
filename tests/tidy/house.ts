import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import type { Source } from "./source.ts";

const top = new URL("../../", import.meta.url).pathname;
const readable = new Set([".ts", ".tsx", ".md", ".json", ".css", ".html", ".svg", ".webmanifest", ""]);

/** Every file that git knows or would take in, so that what is ignored is nobody's business. */
export function housePaths(): string[] {
  return execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard"], {
    cwd: top,
    encoding: "utf8",
  })
    .split("\n")
    .filter((path) => path !== "" && existsSync(join(top, path)))
    .sort();
}

export function readHouse(): Source[] {
  return housePaths()
    .filter((path) => readable.has(extname(path)) && path !== "package-lock.json")
    .map((path) => ({ path, text: readFileSync(join(top, path), "utf8") }));
}
