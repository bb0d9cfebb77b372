import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, inject, test } from "vitest";
import type { PrecacheReport } from "../../app/offline/messages.ts";
import { takeOverLimit_ms } from "../../app/offline/update.ts";
import { runWriterLock } from "../../app/ports.ts";
import { precacheList } from "../../app/serve/precache-list.ts";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";

let browser: Browser;
let folder: string;
let site: Site;

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "fourfast-offline-"));
  cpSync(inject("siteFolder"), folder, { recursive: true });
  site = await serveSite(folder, { port: 0, prefix: "/some/where/" });
});
afterEach(async () => {
  await site.stop();
  rmSync(folder, { recursive: true, force: true });
});

test("one visit is enough: with the server stopped the app opens again from a sub-path, and asks nobody else", async () => {
  const context = await browser.newContext();
  const asked = new Set<string>();
  context.on("request", (request) => asked.add(new URL(request.url()).origin));
  const page = await context.newPage();
  const complaints = listen(page);
  await page.goto(site.url);
  await installed(page);
  await site.stop();

  await page.reload();
  await page.getByRole("heading", { level: 1 }).first().waitFor();
  const again = await context.newPage();
  await again.goto(`${site.url}index.html?from=icon#/`);
  await again.getByRole("heading", { level: 1 }).first().waitFor();

  expect([...asked]).toEqual([new URL(site.url).origin]);
  expect(complaints).toEqual([]);
  await context.close();
});

test("the first visit itself can go on without the server: the first install claims the page", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(site.url);
  await installed(page);
  expect(await page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
  await context.close();
});

test("a new version waits through reloads, takes over when told, and is then whole without the server", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(site.url);
  await installed(page);
  publishNextVersion(folder);
  await waitingWorker(page);
  await page.reload();
  expect(await page.title()).toBe("Fourfast");

  await page.evaluate(async () => {
    const changed = new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done));
    const registration = await navigator.serviceWorker.getRegistration();
    registration?.waiting?.postMessage({ type: "SKIP_WAITING" });
    await changed;
  });
  await site.stop();
  await page.reload();
  expect(await page.title()).toBe("Fourfast, next");
  expect((await report(page)).missing).toEqual([]);
  await context.close();
});

test("an update is offered only while no page has a run open, and one tap on it changes over and reloads once", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(site.url);
  await installed(page);
  const other = await context.newPage();
  await other.goto(site.url);
  await other.evaluate(
    (name) =>
      new Promise<void>((taken) => {
        void navigator.locks.request(name, () => {
          taken();
          return new Promise(() => {});
        });
      }),
    runWriterLock,
  );
  publishNextVersion(folder);
  await waitingWorker(page);
  const offer = page.getByRole("button", { name: "Use it now" });
  await page.waitForTimeout(1000);
  expect(await offer.count()).toBe(0);

  await other.close();
  await offer.waitFor({ timeout: 15_000 });
  let loads = 0;
  page.on("load", () => {
    loads += 1;
  });
  await offer.click();
  await page.waitForFunction(() => document.title === "Fourfast, next");
  await page.waitForTimeout(takeOverLimit_ms + 1000);
  expect(loads).toBe(1);
  expect(await offer.count()).toBe(0);
  await context.close();
});

test("the worker says how many files it keeps, and names the one that the browser has dropped", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(site.url);
  await installed(page);
  const whole = await report(page);
  expect(whole).toEqual({ expected: precacheList(folder).length, missing: [] });
  await page.evaluate(async () => {
    for (const name of await caches.keys()) {
      const cache = await caches.open(name);
      for (const { url } of await cache.keys()) if (url.includes("icon-192")) await cache.delete(url);
    }
  });
  expect((await report(page)).missing).toEqual(["icons/icon-192.png"]);
  await context.close();
});

test("the page's policy refuses a script from a string and a request to another origin", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(site.url);
  const outcome = await page.evaluate(async () => {
    const elsewhere = await fetch("http://127.0.0.1:9/").then(
      () => "sent",
      (error: Error) => error.name,
    );
    let html = "set";
    try {
      document.body.innerHTML = "<b>x</b>";
    } catch (error) {
      html = (error as Error).name;
    }
    return { elsewhere, html };
  });
  expect(outcome).toEqual({ elsewhere: "TypeError", html: "TypeError" });
  await context.close();
});

function listen(page: Page): string[] {
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") complaints.push(message.text());
  });
  return complaints;
}

/** Until the worker of this page is active and has it in hand. */
async function installed(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    while (!navigator.serviceWorker.controller) await new Promise((again) => setTimeout(again, 20));
  });
}

/** Asks for a newer worker and waits until it stands ready. */
async function waitingWorker(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.getRegistration();
    await registration?.update();
    while (!registration?.waiting) await new Promise((again) => setTimeout(again, 20));
  });
}

function report(page: Page): Promise<PrecacheReport> {
  return page.evaluate(() => {
    const { port1, port2 } = new MessageChannel();
    const answer = new Promise<PrecacheReport>((done) => {
      port1.onmessage = (event) => done(event.data);
    });
    navigator.serviceWorker.controller?.postMessage({ type: "PRECACHE_REPORT" }, [port2]);
    return answer;
  });
}

/** Stands for a later build: another title, and a worker that differs by the revision of the page. */
function publishNextVersion(at: string): void {
  const page = join(at, "index.html");
  writeFileSync(page, readFileSync(page, "utf8").replace("<title>Fourfast", "<title>Fourfast, next"));
  const worker = join(at, "service-worker.js");
  const text = readFileSync(worker, "utf8");
  const next = text.replace(/(index\.html`,revision:`)[0-9a-f]+/g, "$10123456789abcdef");
  expect(next).not.toBe(text);
  writeFileSync(worker, next);
}
