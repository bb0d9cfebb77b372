import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { emittedFiles } from "../../app/serve/precache-list.ts";

export interface Chunk {
  name: string;
  /** gzip, level 9 */
  bytes: number;
  /** Named by the page itself, as its script or as what that script needs to start. */
  atOnce: boolean;
}

/** The stand is in the main bundle: what the page names is what the stand loads. Biggest first. */
export function weighScripts(folder: string): { stand_bytes: number; chunks: Chunk[] } {
  const page = readFileSync(join(folder, "index.html"), "utf8");
  const named = new Set([...page.matchAll(/(?:src|href)="\.\/([^"]+\.js)"/g)].map((match) => match[1]));
  const chunks = emittedFiles(folder)
    .filter((name) => name.endsWith(".js"))
    .map((name) => ({
      name,
      bytes: gzipSync(readFileSync(join(folder, name)), { level: 9 }).length,
      atOnce: named.has(name),
    }))
    .sort((a, b) => b.bytes - a.bytes);
  const stand_bytes = chunks.filter((chunk) => chunk.atOnce).reduce((sum, chunk) => sum + chunk.bytes, 0);
  if (stand_bytes === 0) throw new Error(`${folder}/index.html names no script of its own`);
  return { stand_bytes, chunks };
}
