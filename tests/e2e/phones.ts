import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, type ExpectStatic, inject } from "vitest";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";
import { AT_320, AT_360 } from "./controls.ts";
import { Crew } from "./crew.ts";
import { screenFaults } from "./screen-faults.ts";

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
 * fingers do, so tests go on side by side: each takes `expect` from its own context. Every screen that the crew
 * meets, on a good day or a bad one, is measured as it is drawn.
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
      const faults = new Set<string>();
      const least = viewport.width < SMALL_PHONE.width ? AT_320 : AT_360;
      const crew = new Crew(page, async (screen) => {
        for (const fault of await screenFaults(page, screen, viewport, least)) faults.add(fault);
      });
      try {
        await play({ url: site.url, context, page, crew }, expect);
        expect([...faults]).toEqual([]);
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
