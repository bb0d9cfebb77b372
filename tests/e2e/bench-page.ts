import { mkdirSync, readFileSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, inject } from "vitest";
import { termRuns } from "../../app/demo/term/term.ts";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { writeRunFile } from "../../core/exchange/run-file.ts";
import { openBrowser } from "../browser/open-browser.ts";

/** A bench in a real browser, for the tests that sit down at it. */

/** Kept for whoever looks. */
export const pictures = new URL("../../.cache/pictures/", import.meta.url).pathname;
const records = new URL("../records/", import.meta.url);
export const heron01 = {
  text: readFileSync(new URL("heron-01.csv", records), "utf8"),
  truth: JSON.parse(readFileSync(new URL("records.json", records), "utf8"))["heron-01.csv"].truth.events[0],
};

/** A browser and a site for the tests of one file, and a fresh bench for each of them. */
export function benchForTests() {
  let browser: Browser;
  let site: Site;
  beforeAll(async () => {
    mkdirSync(pictures, { recursive: true });
    browser = await openBrowser();
    site = await serveSite(inject("siteFolder"), { port: 0, prefix: "/some/where/" });
  });
  afterAll(async () => {
    await browser.close();
    await site.stop();
  });
  return async (viewport = { width: 1280, height: 800 }) => {
    const context = await browser.newContext({ viewport });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
    const go = async (address: string) => {
      await page.goto(`${site.url}#/bench${address}`);
      await page.getByRole("heading", { level: 1 }).first().waitFor();
    };
    await go("");
    return { page, complaints, go, close: () => context.close() };
  };
}

export const bring = (page: Page, ...files: readonly { name: string; text: string }[]) =>
  page
    .locator('input[type="file"]')
    .setInputFiles(
      files.map(({ name, text }) => ({ name, mimeType: "text/plain", buffer: Buffer.from(text) })),
    );

/** Nothing is under way any more. */
export const settled = (page: Page) =>
  page.waitForFunction(
    () => !document.querySelector(".under-way") && !document.body.textContent?.includes("being reduced"),
  );

/** Heron with 600 g at 3 bar. */
export const heronRun = [...termRuns()].find(({ plan }) => plan.water_kg === 0.6 && plan.set_Pa === 300_000)!;

/** Its run file, as a phone would share it. */
export function runFile(): { name: string; text: string; code: string } {
  const { plan, log, documents, entries } = heronRun;
  const text = writeRunFile({ run: plan.code, log, ...documents, entries });
  if (!text.ok) throw new Error(JSON.stringify(text.issues));
  return { name: `fourfast-${plan.code}.txt`, text: text.value, code: plan.code };
}

export const openRun = (page: Page, code: string) =>
  page
    .getByRole("link", { name: new RegExp(`^${code} `) })
    .first()
    .click();

export const impulseShown = async (page: Page) => {
  const figure = page.locator(".result > div").first().locator(".figure-value");
  return Number((await figure.textContent())?.replace("N·s", "").trim());
};
