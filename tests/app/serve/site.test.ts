import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Site, serveSite } from "../../../app/serve/site.ts";

let outer: string;
let site: Site;
beforeAll(async () => {
  outer = mkdtempSync(join(tmpdir(), "fourfast-serve-"));
  const folder = join(outer, "built");
  mkdirSync(join(folder, "assets"), { recursive: true });
  writeFileSync(join(folder, "index.html"), "<p>page</p>");
  writeFileSync(join(folder, "assets", "main-abc.js"), "1");
  writeFileSync(join(outer, "secret.txt"), "not yours");
  writeFileSync(join(outer, "built-secret.txt"), "not yours either");
  site = await serveSite(folder, { port: 0, prefix: "/sub/path/" });
});
afterAll(async () => {
  await site.stop();
  rmSync(outer, { recursive: true, force: true });
});

const get = (path: string, init?: RequestInit) =>
  fetch(new URL(path, site.url), { redirect: "manual", ...init });

/** fetch tidies a path before it sends it; an attacker does not. */
function statusOfRaw(path: string): Promise<number | undefined> {
  const { hostname, port } = new URL(site.url);
  return new Promise((resolve, reject) => {
    request({ hostname, port, path }, (response) => {
      response.resume();
      resolve(response.statusCode);
    })
      .on("error", reject)
      .end();
  });
}

test("serves the page at its sub-path, with or without the slash", async () => {
  expect(await (await get("")).text()).toBe("<p>page</p>");
  const bare = await get("/sub/path");
  expect([bare.status, bare.headers.get("location")]).toEqual([308, "/sub/path/"]);
  expect((await get("/")).status).toBe(404);
});

test.each([
  "/sub/path/../../secret.txt",
  "/sub/path/%2e%2e/secret.txt",
  "/sub/path/..%2fsecret.txt",
  "/sub/path/..%2f..%2fsecret.txt",
  "/sub/path/..%2fbuilt-secret.txt",
  "/sub/path//etc/passwd",
  "/sub/path/%00",
  "/sub/path/%zz",
  "/sub/path/assets",
])("gives nothing outside its folder: %s", async (path) => {
  expect(await statusOfRaw(path)).toBe(404);
});

describe("says", () => {
  test("what the page may load, on every answer, refusals too", async () => {
    for (const path of ["", "assets/main-abc.js", "nothing"]) {
      const { headers } = await get(path);
      expect(headers.get("content-security-policy")).toContain("default-src 'none'");
      expect(headers.get("content-security-policy")).toContain("frame-ancestors 'none'");
      expect(headers.get("permissions-policy")).toContain("camera=(self)");
      expect(headers.get("x-content-type-options")).toBe("nosniff");
    }
  });

  test("that only names with a digest may be kept without asking", async () => {
    expect((await get("assets/main-abc.js")).headers.get("cache-control")).toContain("immutable");
    const page = await get("");
    expect(page.headers.get("cache-control")).toBe("no-cache");
    const tag = page.headers.get("etag") ?? "";
    expect((await get("", { headers: { "if-none-match": tag } })).status).toBe(304);
  });

  test("that there is nothing to write to", async () => {
    const answer = await get("", { method: "POST", body: "x" });
    expect([answer.status, answer.headers.get("allow")]).toEqual([405, "GET, HEAD"]);
  });
});

test("a taken port is an error, not another port", async () => {
  const port = Number(new URL(site.url).port);
  await expect(serveSite(outer, { port })).rejects.toMatchObject({ code: "EADDRINUSE" });
});
