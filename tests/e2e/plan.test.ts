import { mkdirSync } from "node:fs";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";

let browser: Browser;
let site: Site;
const pictures = new URL("../../.cache/pictures/", import.meta.url).pathname;

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await openBrowser();
  site = await serveSite(inject("siteFolder"), { port: 0, prefix: "/some/where/" });
});
afterAll(async () => {
  await browser.close();
  await site.stop();
});

async function openPlan(width: number, height: number) {
  const context = await browser.newContext({ viewport: { width, height } });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
  await page.goto(`${site.url}#/plan`);
  await page.locator("svg.plot-picture").nth(1).waitFor();
  return { page, complaints, close: () => context.close() };
}

test("opens on Heron's own numbers with its prediction, its map and its hazards", async () => {
  const { page, complaints, close } = await openPlan(1280, 800);
  expect(await page.locator(".figures .figure-value").first().textContent()).toMatch(/^11\.\d+\s*N·s$/);
  expect(await page.getByText("ASME PCC-2-2008").count()).toBeGreaterThan(0);
  await page.screenshot({ path: join(pictures, "plan-1280.png"), fullPage: true });
  expect(complaints).toEqual([]);
  await close();
});

test("a unit changes the number in its field, not the quantity behind it", async () => {
  const { page, close } = await openPlan(1280, 800);
  const before = await page.locator(".figures .figure-value").first().textContent();
  await page.getByLabel("Unit of Set pressure").selectOption("psi");
  expect(await page.getByLabel("Set pressure", { exact: true }).first().inputValue()).toMatch(/^43\.51/);
  expect(await page.locator(".figures .figure-value").first().textContent()).toBe(before);
  await close();
});

test("a pressure above the owner's limit is refused at its field, and nothing is computed from it", async () => {
  const { page, close } = await openPlan(1280, 800);
  await page.getByLabel("Set pressure", { exact: true }).first().fill("6");
  await page.getByText("Nothing is computed until every field holds").waitFor();
  expect(await page.getByText(/above this bottle's limit/).count()).toBeGreaterThan(0);
  // The page is short once the last picture is gone; until then what is clicked may still move.
  await page.locator("svg.plot-picture").first().waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Back to the stand's own numbers" }).click();
  await page.locator("svg.plot-picture").nth(1).waitFor();
  await close();
});

test("a slider moves the point with the keyboard, and a quantity changes the map", async () => {
  const { page, close } = await openPlan(1280, 800);
  const slider = page.getByRole("slider", { name: /^Water/ });
  const before = await slider.getAttribute("aria-valuetext");
  await slider.focus();
  await page.keyboard.press("ArrowRight");
  expect(await slider.getAttribute("aria-valuetext")).not.toBe(before);
  await page.getByRole("button", { name: "Specific impulse" }).click();
  await page.getByRole("heading", { name: /Specific impulse over fill and pressure/ }).waitFor();
  await page.screenshot({ path: join(pictures, "plan-specific-impulse.png") });
  await close();
});

test("a matrix that was kept is there after a reload, with its seed", async () => {
  const { page, close } = await openPlan(1280, 800);
  await page.getByLabel("Crews", { exact: true }).fill("P Q");
  await page.getByRole("button", { name: "Keep this matrix" }).click();
  await page.getByRole("button", { name: "Kept" }).waitFor();
  await page.reload();
  await page.getByRole("button", { name: "Kept" }).waitFor();
  expect(await page.getByLabel("Crews", { exact: true }).inputValue()).toBe("P Q");
  await close();
});

test("nothing runs out of a screen of 360 px", async () => {
  const { page, close } = await openPlan(360, 640);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  await page.screenshot({ path: join(pictures, "plan-360.png"), fullPage: true });
  await close();
});

test("the machine's own check of accessibility finds nothing, by day and by night", async () => {
  const { page, close } = await openPlan(1280, 800);
  for (const theme of ["day", "night"]) {
    await page.evaluate((name) => {
      document.documentElement.dataset["theme"] = name;
    }, theme);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
  }
  await close();
});
