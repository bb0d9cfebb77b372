import { AxeBuilder } from "@axe-core/playwright";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, inject, test } from "vitest";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";
import { AT_320, AT_360, controlsOf, faultsOf, type Least } from "./controls.ts";
import { Crew } from "./crew.ts";

/** The stand face in a real browser, on the built app, with the server gone after the first load. */

let browser: Browser;
let site: Site;
let context: BrowserContext;
let page: Page;
let complaints: string[];

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());
beforeEach(async () => {
  site = await serveSite(inject("siteFolder"), { port: 0 });
  await visit({ width: 360, height: 640 });
});
afterEach(async () => {
  await context.close();
  await site.stop();
  expect(complaints).toEqual([]);
});

async function visit(viewport: { width: number; height: number }): Promise<void> {
  await context?.close();
  context = await browser.newContext({ viewport, hasTouch: true });
  page = await context.newPage();
  complaints = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
}

/** The app is on the device and the server is gone, as it is at the stand. */
async function goOffline(): Promise<void> {
  await page.goto(site.url);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    while (!navigator.serviceWorker.controller) await new Promise((again) => setTimeout(again, 20));
  });
  await site.stop();
}

const overflow = () =>
  page.evaluate(() => {
    const main = document.querySelector("main.page");
    return main ? main.scrollHeight - main.clientHeight : 0;
  });

/** Kinds of screen that a run is judged by; lists and menus may scroll, a step may not. */
const isStep = (screen: string) => !screen.startsWith("panel") && screen !== "over";

test.each([
  ["Heron", 360, 640, AT_360],
  ["Kingfisher", 360, 640, AT_360],
] satisfies [string, number, number, Least][])(
  "a crew takes a nominal run on %s to its end, offline, in at most 70 taps and two hand-overs at %i x %i",
  async (stand, width, height, least) => {
    await visit({ width, height });
    const faults: string[] = [];
    const sizes = new Map<string, string>();
    const crew = new Crew(page, async (screen) => {
      const controls = await controlsOf(page);
      const lie = isStep(screen) ? faultsOf(controls, { width, height }, least) : [];
      faults.push(...lie.map((fault) => `${screen}: ${fault}`));
      if (isStep(screen) && (await overflow()) > 0)
        faults.push(`${screen}: scrolls by ${await overflow()} px`);
      for (const { name, kind, width: w, height: h } of controls)
        sizes.set(`${kind} ${Math.round(w)} x ${Math.round(h)}`, name);
    });
    await goOffline();
    await crew.start(site.url, new RegExp(stand));
    await crew.until((screen) => screen === "over");
    console.log(
      `${stand}: ${crew.taps} taps, ${crew.keystrokes} keystrokes, ${crew.handOvers} hand-overs; sizes met:\n` +
        [...sizes]
          .map(([size, name]) => `  ${size}  "${name}"`)
          .sort()
          .join("\n"),
    );
    expect(faults).toEqual([]);
    expect(crew.taps).toBeLessThanOrEqual(70);
    expect(crew.handOvers).toBe(2);
    expect(await page.locator(".run-code").innerText()).toMatch(/^[HK]-\d{3}-01$/);
  },
  240_000,
);

test("on the smallest phone nothing critical is under 96 x 72, and what answers a step needs no scrolling", async () => {
  const [width, height] = [320, 568];
  await visit({ width, height });
  const faults: string[] = [];
  const crew = new Crew(page, async (screen) => {
    if (isStep(screen))
      faults.push(
        ...faultsOf(await controlsOf(page), { width, height }, AT_320).map((fault) => `${screen}: ${fault}`),
      );
  });
  await crew.start(site.url, /Heron/);
  await crew.until((screen) => screen.startsWith("gate air-called"));
  expect(faults).toEqual([]);
}, 180_000);
