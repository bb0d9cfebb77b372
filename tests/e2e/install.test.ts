import type { Browser, CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";

let browser: Browser;
let site: Site;
let page: Page;
let devtools: CDPSession;

beforeAll(async () => {
  browser = await openBrowser();
  site = await serveSite(inject("siteFolder"), { port: 0, prefix: "/some/where/" });
  page = await browser.newPage();
  await page.goto(site.url);
  devtools = await page.context().newCDPSession(page);
});
afterAll(async () => {
  await browser.close();
  await site.stop();
});

interface Picture {
  src: string;
  sizes: string;
  type: string;
  purpose?: string;
  form_factor?: string;
}

async function manifest() {
  const { data, errors, url } = await devtools.send("Page.getAppManifest");
  return { url, errors, content: JSON.parse(data ?? "null") };
}

test("the browser finds no fault with the manifest and would install the app from a sub-path", async () => {
  expect((await manifest()).errors).toEqual([]);
  // A page of a test browser is "incognito" to Chromium, which is no fault of the app.
  const { installabilityErrors } = await devtools.send("Page.getInstallabilityErrors");
  expect(installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito")).toEqual([]);
});

test("the app has a name, an identity, its own window, and stays inside its folder", async () => {
  const { url, content } = await manifest();
  expect(content).toMatchObject({
    id: "fourfast",
    name: "Fourfast",
    short_name: "Fourfast",
    display: "standalone",
  });
  expect(new URL(content.start_url, url).href).toBe(site.url);
  expect(new URL(content.scope, url).href).toBe(site.url);
});

test("every picture of the manifest is there in the size it says, icons for any and for maskable places", async () => {
  const { url, content } = await manifest();
  const icons: Picture[] = content.icons;
  expect(new Set(icons.map(({ purpose }) => purpose))).toEqual(new Set(["any", "maskable"]));
  const screenshots: Picture[] = content.screenshots;
  expect(screenshots.map((picture) => picture.form_factor)).toEqual(["narrow", "wide"]);
  const drawn = [...icons, ...screenshots].filter(({ sizes }) => sizes !== "any");
  for (const { src, sizes } of drawn) {
    const size = await page.evaluate(async (address) => {
      const picture = new Image();
      picture.src = address;
      await picture.decode();
      return `${picture.naturalWidth}x${picture.naturalHeight}`;
    }, new URL(src, url).href);
    expect(`${src} ${size}`).toBe(`${src} ${sizes}`);
  }
});
