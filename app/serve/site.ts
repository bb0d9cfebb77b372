import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, resolve, sep } from "node:path";
import { securityHeaders } from "./headers.ts";

const contentTypes: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".webmanifest": "application/manifest+json; charset=utf-8",
  ".svg": "image/svg+xml; charset=utf-8",
  ".png": "image/png",
  ".csv": "text/csv; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
};

export interface Site {
  /** Where it can be opened, with a slash at the end. */
  url: string;
  stop(): Promise<void>;
}

export interface SiteOptions {
  /** 0 lets the system choose. */
  port: number;
  /** "/" or a sub-path such as "/stand/", as a static host would have it. */
  prefix?: string;
}

/**
 * Serves a built folder to this machine alone: on `localhost` the browser grants what it otherwise keeps for
 * https (service worker, camera, locks), and nobody else on the network sees the records.
 * @fails rejects with the system's error where the port is taken
 */
export async function serveSite(folder: string, { port, prefix = "/" }: SiteOptions): Promise<Site> {
  const server = createServer((request, response) => {
    answer(folder, prefix, request, response).catch(() =>
      plain(response, 500, "The file could not be read."),
    );
  });
  await new Promise<void>((resolved, rejected) => {
    server.once("error", rejected);
    server.listen(port, "localhost", resolved);
  });
  return {
    url: `http://localhost:${(server.address() as AddressInfo).port}${prefix}`,
    stop: () =>
      new Promise((resolved) => {
        server.close(() => resolved());
        server.closeAllConnections();
      }),
  };
}

async function answer(folder: string, prefix: string, request: IncomingMessage, response: ServerResponse) {
  for (const [name, value] of Object.entries(securityHeaders)) response.setHeader(name, value);
  if (request.method !== "GET" && request.method !== "HEAD") {
    response.setHeader("Allow", "GET, HEAD");
    return plain(response, 405, "Only reading is possible here.");
  }
  const path = decodedPath(request.url ?? "/");
  if (path !== undefined && `${path}/` === prefix) {
    response.writeHead(308, { Location: prefix }).end();
    return;
  }
  const file = path === undefined ? undefined : fileFor(folder, prefix, path);
  const found = file === undefined ? undefined : await stat(file).catch(() => undefined);
  if (file === undefined || !found?.isFile()) return plain(response, 404, "There is no such file.");

  const tag = `"${found.size.toString(36)}-${Math.round(found.mtimeMs).toString(36)}"`;
  response.setHeader("ETag", tag);
  response.setHeader("Cache-Control", cacheControl(file));
  if (request.headers["if-none-match"] === tag) {
    response.writeHead(304).end();
    return;
  }
  response.setHeader("Content-Type", contentTypes[extname(file)] ?? "application/octet-stream");
  response.setHeader("Content-Length", found.size);
  if (request.method === "HEAD") response.end();
  else
    createReadStream(file)
      .on("error", () => response.destroy())
      .pipe(response);
}

/** Names under assets/ carry a digest of their content; all others must be asked for again, the worker first of all. */
function cacheControl(file: string): string {
  return file.includes(`${sep}assets${sep}`) ? "public, max-age=31536000, immutable" : "no-cache";
}

function decodedPath(url: string): string | undefined {
  try {
    return decodeURIComponent(new URL(url, "http://localhost").pathname);
  } catch {
    return undefined;
  }
}

function fileFor(folder: string, prefix: string, path: string): string | undefined {
  if (!path.startsWith(prefix)) return undefined;
  const root = resolve(folder);
  const file = resolve(join(root, path.slice(prefix.length) || "index.html"));
  return file.startsWith(root + sep) ? file : undefined;
}

function plain(response: ServerResponse, status: number, text: string): void {
  if (response.headersSent) {
    response.destroy();
    return;
  }
  response.writeHead(status, { "Content-Type": "text/plain; charset=utf-8" }).end(`${text}\n`);
}
