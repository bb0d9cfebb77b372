import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { missingFromWorker, precacheList } from "../../../app/serve/precache-list.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "fourfast-precache-"));
  put("index.html", "<p>page</p>");
  put("assets/main-abc123.js", "1");
  put("service-worker.js", "");
  put("screenshots/stand.png", "png");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function put(name: string, text: string) {
  mkdirSync(dirname(join(folder, name)), { recursive: true });
  writeFileSync(join(folder, name), text);
}
const revisionOf = (url: string) => precacheList(folder).find((entry) => entry.url === url)?.revision;

test("keeps every emitted file but the worker itself and the pictures of the install dialog", () => {
  expect(precacheList(folder).map(({ url }) => url)).toEqual(["assets/main-abc123.js", "index.html"]);
});

test("a file without a digest in its name is fetched again when its content changes, and only then", () => {
  const before = revisionOf("index.html");
  expect(revisionOf("assets/main-abc123.js")).toBeNull();
  put("index.html", "<p>page</p>");
  expect(revisionOf("index.html")).toBe(before);
  put("index.html", "<p>another</p>");
  expect(revisionOf("index.html")).not.toBe(before);
});

test("a file of three megabytes is kept like any other", () => {
  put("assets/big-abc123.js", "x".repeat(3 * 1024 * 1024));
  expect(precacheList(folder).map(({ url }) => url)).toContain("assets/big-abc123.js");
});

test("names the file that the written worker does not hold", () => {
  const whole = 'precache([{url:`index.html`,revision:"a"},{url:"assets/main-abc123.js",revision:null}])';
  expect(missingFromWorker(folder, whole)).toEqual([]);
  expect(missingFromWorker(folder, whole.replace("main-abc123", "main-other"))).toEqual([
    "assets/main-abc123.js",
  ]);
});
