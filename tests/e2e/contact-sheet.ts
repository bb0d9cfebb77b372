import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { Browser, Page } from "playwright-core";
import { buildSite } from "../../app/serve/build-site.ts";
import { serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";
import { AT_320, AT_360 } from "./controls.ts";
import { Crew } from "./crew.ts";
import { SCENES } from "./scenes.ts";
import { screenFaults } from "./screen-faults.ts";

/**
 * `npm run contact-sheet [-- --size 320x568 --theme night --only misfire]`: every screen of a run and of what can go
 * wrong, as pictures in .cache/contact-sheet, and one sheet of them all. To be looked at as a stranger would.
 * What can be measured of a screen is measured first; a fault ends with exit code 1.
 */
const { values } = parseArgs({
  options: {
    size: { type: "string", default: "360x640" },
    theme: { type: "string", default: "day" },
    only: { type: "string", default: "" },
  },
});
const [width = 360, height = 640] = values.size.split("x").map(Number);
const target = new URL("../../.cache/contact-sheet/", import.meta.url).pathname;

const folder = mkdtempSync(join(tmpdir(), "fourfast-sheet-"));
rmSync(target, { recursive: true, force: true });
mkdirSync(target, { recursive: true });
await buildSite(folder);
const site = await serveSite(folder, { port: 0 });
const browser = await openBrowser();
try {
  const scenes = SCENES.filter(({ name }) => name.includes(values.only));
  // Four crews at once: they mostly wait.
  for (let from = 0; from < scenes.length; from += 4)
    await Promise.all(scenes.slice(from, from + 4).map((scene) => play(browser, scene)));
  await sheet(browser);
} finally {
  await browser.close();
  await site.stop();
  rmSync(folder, { recursive: true, force: true });
}

async function play(shared: Browser, { name, stand, act }: (typeof SCENES)[number]): Promise<void> {
  const context = await shared.newContext({ viewport: { width, height }, hasTouch: true });
  const page = await context.newPage();
  await page.addInitScript((theme) => {
    addEventListener("DOMContentLoaded", () => {
      document.documentElement.dataset["theme"] = theme;
    });
  }, values.theme);
  let taken = 0;
  const shoot = async (what: string): Promise<void> => {
    taken += 1;
    await page.screenshot({ path: join(target, `${name}-${String(taken).padStart(2, "0")}-${what}.png`) });
    const screen = (await page.locator(".stand").getAttribute("data-screen")) ?? "";
    const faults = await screenFaults(page, screen, { width, height }, width < 360 ? AT_320 : AT_360);
    for (const fault of faults) console.error(`${name} ${taken}: ${fault}`);
    if (faults.length > 0) process.exitCode = 1;
  };
  const crew = new Crew(page, act === undefined ? (screen) => shoot(slug(screen)) : undefined);
  try {
    await crew.start(site.url, stand, name === "drill");
    if (act) await act(crew, shoot);
    else await crew.until((screen) => screen === "over");
    console.log(`${name}: ${taken} pictures, ${crew.taps} taps`);
  } catch (fault) {
    await shoot("broken-off");
    console.error(`${name}: ${fault instanceof Error ? fault.message : fault}`);
    process.exitCode = 1;
  }
  await context.close();
}

function slug(screen: string): string {
  return screen
    .replace(/[^a-z0-9]+/gi, "-")
    .replace(/-$/, "")
    .slice(0, 40);
}

async function sheet(shared: Browser): Promise<void> {
  const page = await shared.newPage({ viewport: { width: 8 * (width + 12), height: 600 } });
  await page.setContent(
    `<body style="margin:6px;background:#777;font:14px sans-serif;display:grid;grid-template-columns:repeat(8,1fr);gap:8px">` +
      readdirSync(target)
        .sort()
        .map((file) => `<figure style="margin:0">${picture(file)}<figcaption>${file}</figcaption></figure>`)
        .join(""),
  );
  await decoded(page);
  await page.screenshot({ path: join(target, "..", "contact-sheet.png"), fullPage: true });
  console.log(".cache/contact-sheet.png");
}

function picture(file: string): string {
  return `<img src="data:image/png;base64,${readFileSync(join(target, file)).toString("base64")}">`;
}

async function decoded(page: Page): Promise<void> {
  await page.evaluate(() => Promise.all([...document.images].map((image) => image.decode())));
}
