import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";
import { bring, heronRun, pictures, runFile } from "./bench-page.ts";
import { openEyes, shoot } from "./eyes.ts";
import { film } from "./film.ts";
import { installed, SMALL_PHONE } from "./phones.ts";

/** A run from a phone's screen into a laptop by its camera, with no network on either side. */

const run = runFile();
const folder = mkdtempSync(join(tmpdir(), "fourfast-film-"));
let browser: Browser;
let site: Site;
beforeAll(async () => {
  browser = await openBrowser();
  site = await serveSite(inject("siteFolder"), { port: 0 });
});
afterAll(async () => {
  await browser.close();
  await site.stop();
  rmSync(folder, { recursive: true, force: true });
});

const complaintsOf = (page: Page): readonly string[] => {
  const complaints: string[] = [];
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
  return complaints;
};

/** A phone that holds the run, offline, with its end on the screen. */
const phoneWithRun = async (more: Parameters<Browser["newContext"]>[0] = {}) => {
  const context = await browser.newContext({
    viewport: SMALL_PHONE,
    deviceScaleFactor: 2,
    hasTouch: true,
    ...more,
  });
  const page = await context.newPage();
  const complaints = complaintsOf(page);
  await installed({ page, url: site.url });
  await page.goto(`${site.url}#/bench`);
  await bring(page, run);
  await page
    .getByRole("link", { name: new RegExp(`^${run.code} `) })
    .first()
    .waitFor();
  await context.setOffline(true);
  await page.goto(`${site.url}#/stand/${heronRun.log}`);
  await page.getByRole("link", { name: "Show as codes" }).click();
  await page.getByRole("heading", { name: `${run.code} as ` }).waitFor();
  return { page, complaints, close: () => context.close() };
};

const readCodes = async (eyes: Browser, permissions: readonly string[] = ["camera"]) => {
  const context = await eyes.newContext({
    viewport: { width: 1280, height: 900 },
    permissions: [...permissions],
  });
  const page = await context.newPage();
  const complaints = complaintsOf(page);
  await installed({ page, url: site.url });
  await context.setOffline(true);
  await page.goto(`${site.url}#/bench`);
  await page.getByRole("button", { name: "Read codes with the camera" }).click();
  return { page, complaints };
};

/** The run as this device gives it on: the file that "Save the run" makes. */
const savedText = async (page: Page): Promise<string> => {
  await page.goto(`${site.url}#/stand/${heronRun.log}`);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the run" }).click();
  return readFileSync(await (await download).path(), "utf8");
};

test.each(["coarse", "finer"] as const)(
  "a run goes from phone to laptop by %s codes, offline on both sides, byte for byte",
  async (size) => {
    const phone = await phoneWithRun();
    if (size === "finer") await phone.page.getByRole("button", { name: "Finer codes" }).click();
    const screens = await shoot(phone.page);
    const path = join(folder, `${size}.y4m`);
    const blank = await browser.newPage();
    await film(blank, screens, path);
    await blank.close();

    const eyes = await openEyes(path);
    const { page, complaints } = await readCodes(eyes);
    const start_ms = Date.now();
    await page.locator(".frames-in li[data-in=true]").nth(2).waitFor();
    await page.screenshot({ path: join(pictures, `carry-reading-${size}.png`) });
    await page
      .getByRole("link", { name: new RegExp(`^${run.code} `) })
      .first()
      .waitFor();
    console.log(`${screens.length} ${size} codes were in after ${Date.now() - start_ms} ms`);
    expect(await page.locator(".read-codes").count(), "the camera is put away").toBe(0);
    expect(await savedText(page)).toBe(run.text);
    expect([...complaints, ...phone.complaints]).toEqual([]);
    await eyes.close();
    await phone.close();
  },
);

test("while the camera sees no code there is nothing for the machine's accessibility check to find", async () => {
  const eyes = await openEyes();
  const { page } = await readCodes(eyes);
  await page.locator(".read-codes video").waitFor();
  expect((await new AxeBuilder({ page }).include(".read-codes").analyze()).violations).toEqual([]);
  await eyes.close();
});

test("on a phone of 360 x 640 the code, its count and every control are on the screen, in whole pixels", async () => {
  const { page, complaints, close } = await phoneWithRun();
  for (const finer of [false, true]) {
    if (finer) await page.getByRole("button", { name: "Finer codes" }).click();
    const { each_px, ...met } = await page.evaluate(() => {
      const main = document.querySelector("main")!;
      const canvas = document.querySelector("canvas")!;
      return {
        each_px: (canvas.getBoundingClientRect().width * devicePixelRatio) / canvas.width,
        spill_px: main.scrollHeight - main.clientHeight + main.scrollWidth - main.clientWidth,
      };
    });
    expect(met).toEqual({ spill_px: 0 });
    expect(each_px).toBeGreaterThanOrEqual(3);
    expect(each_px).toBeCloseTo(Math.round(each_px), 3);
    await page.screenshot({ path: join(pictures, `carry-showing-${finer ? "finer" : "coarse"}.png`) });
  }
  const count = () => page.locator(".carry-count").textContent();
  expect(await count()).toContain("7 a second");
  await page.getByRole("button", { name: "Slower" }).click();
  expect(await count()).toContain("5 a second");
  const before = await count();
  await page.waitForFunction((old) => document.querySelector(".carry-count")?.textContent !== old, before);
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await page.getByRole("button", { name: "It arrived" }).click();
  await page.getByRole("link", { name: "Show as codes" }).waitFor();
  expect(complaints).toEqual([]);
  await close();
});

test("where less motion is wanted the codes stand still and are turned by hand", async () => {
  const { page, close } = await phoneWithRun({ reducedMotion: "reduce" });
  const count = page.locator(".carry-count");
  expect(await count.textContent()).toContain("standing still");
  await page.getByRole("button", { name: "Next" }).click();
  await page.getByRole("button", { name: "Next" }).click();
  expect(await count.textContent()).toContain("Code 3 of");
  await page.getByRole("button", { name: "Previous" }).click();
  expect(await count.textContent()).toContain("Code 2 of");
  await close();
});

test("a camera that is refused or absent says so, with the other ways and a way back", async () => {
  const withCamera = await openBrowser(["--use-fake-device-for-media-stream"]);
  for (const [name, words, eyes, permissions] of [
    ["refused", "may not use the camera", withCamera, ["geolocation"]],
    ["absent", "No camera was found", browser, ["camera"]],
  ] as const) {
    const { page } = await readCodes(eyes, permissions);
    const alert = page.locator(".read-codes [role=alert]");
    await alert.waitFor();
    expect((await alert.textContent())?.toLowerCase(), name).toContain(words.toLowerCase());
    expect(await alert.textContent()).toContain("choose its file here, or paste its text");
    await page.getByRole("button", { name: "Cancel" }).click();
    expect(await page.locator(".read-codes").count()).toBe(0);
    await page.context().close();
  }
  await withCamera.close();
});
