import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";

/** The worker itself is fetched by the browser, never by itself; pictures for an install dialog need a network anyway. */
const leftOut = [/^service-worker\.js$/, /^screenshots\//];

export interface PrecacheEntry {
  url: string;
  /** null where the name already carries a digest of the content. */
  revision: string | null;
}

/** Every file of the built folder, by its address relative to the page; sorted, so that equal builds have equal bytes. */
export function emittedFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
}

export function precacheList(folder: string): PrecacheEntry[] {
  return emittedFiles(folder)
    .filter((url) => !leftOut.some((pattern) => pattern.test(url)))
    .map((url) => ({ url, revision: url.startsWith("assets/") ? null : digestOf(join(folder, url)) }));
}

/**
 * Files of the built folder that the written worker would not keep. Read from the worker's own text, not from
 * the list it was made from: a file that an install leaves out is only noticed at the stand, without a network.
 */
export function missingFromWorker(folder: string, workerText: string): string[] {
  return precacheList(folder)
    .map(({ url }) => url)
    .filter((url) => !['"', "'", "`"].some((quote) => workerText.includes(quote + url + quote)));
}

function digestOf(path: string): string {
  return createHash("sha256").update(readFileSync(path)).digest("hex").slice(0, 16);
}
