import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, type ExpectStatic, inject } from "vitest";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";
import { Crew } from "./crew.ts";

export type AtStand = {
  readonly url: string;
  readonly context: BrowserContext;
  readonly page: Page;
  readonly crew: Crew;
};
type Play = (at: AtStand, expect: ExpectStatic) => Promise<void>;

export const SMALL_PHONE = { width: 360, height: 640 };

/**
 * One browser and one built app for a file of tests, and for each test a phone of its own. Runs mostly wait, as
 * fingers do, so tests go on side by side: each takes `expect` from its own context.
 */
export const phones = () => {
  let browser: Browser;
  let site: Site;
  beforeAll(async () => {
    browser = await openBrowser();
    site = await serveSite(inject("siteFolder"), { port: 0 });
  });
  afterAll(async () => {
    await browser.close();
    await site.stop();
  });
  return (play: Play, viewport = SMALL_PHONE) =>
    async ({ expect }: { expect: ExpectStatic }): Promise<void> => {
      const context = await browser.newContext({ viewport, hasTouch: true });
      const page = await context.newPage();
      const complaints: string[] = [];
      page.on("pageerror", (error) => complaints.push(error.message));
      page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
      try {
        await play({ url: site.url, context, page, crew: new Crew(page) }, expect);
        expect(complaints).toEqual([]);
      } finally {
        await context.close();
      }
    };
};

/** Until the app is on the device: from here on it needs no server. */
export async function installed({ page, url }: Pick<AtStand, "page" | "url">): Promise<void> {
  await page.goto(url);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    while (!navigator.serviceWorker.controller) await new Promise((again) => setTimeout(again, 20));
  });
}
