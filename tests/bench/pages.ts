import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { build } from "vite";
import { buildSite } from "../../app/serve/build-site.ts";
import { serveSite } from "../../app/serve/site.ts";
import { openBrowser } from "../browser/open-browser.ts";
import { type Measured, sortedTimes } from "./measure.ts";

/** What only a browser can tell: the worker on a million rows, and a slider on a slow laptop. */
export async function benchPages(): Promise<Measured[]> {
  const browser = await openBrowser();
  try {
    return [...(await timeWorker(browser)), ...(await timeSlider(browser))];
  } finally {
    await browser.close();
  }
}

const workerRounds = 7;
const moves = 60;
const slowdown = 4;

async function timeWorker(browser: Browser): Promise<Measured[]> {
  const outDir = mkdtempSync(join(tmpdir(), "fourfast-worker-"));
  await build({
    root: new URL("worker-page/", import.meta.url).pathname,
    base: "./",
    configFile: false,
    logLevel: "warn",
    worker: { format: "es" },
    build: { outDir, emptyOutDir: true },
  });
  return onSite(browser, outDir, "", async (page) => {
    const times = { read: [] as number[], reduce: [] as number[] };
    for (let round = -2; round < workerRounds; round++) {
      const one = await page.evaluate(
        (number) =>
          (
            globalThis as unknown as { round: (n: number) => Promise<{ read_s: number; reduce_s: number }> }
          ).round(number),
        round,
      );
      if (round < 0) continue;
      times.read.push(one.read_s);
      times.reduce.push(one.reduce_s);
    }
    return [
      sortedTimes("read 10^6 rows x 3 columns in the worker", times.read),
      sortedTimes("reduce them in the worker", times.reduce),
      sortedTimes(
        "both",
        times.read.map((read_s, i) => read_s + times.reduce[i]!),
      ),
    ];
  });
}

/** From the input event to the map laid out again: script, style and layout; painting is the browser's own affair. */
async function timeSlider(browser: Browser): Promise<Measured[]> {
  const folder = mkdtempSync(join(tmpdir(), "fourfast-slider-"));
  await buildSite(folder);
  return onSite(browser, folder, "#/plan", async (page) => {
    await page.locator("svg.plot-picture").nth(1).waitFor();
    const client = await page.context().newCDPSession(page);
    const times = async (rate: number) => {
      await client.send("Emulation.setCPUThrottlingRate", { rate });
      return page.evaluate(moveSlider, moves);
    };
    await times(1);
    return [
      sortedTimes("plan: a slider redraws the map", await times(1)),
      sortedTimes(`plan: the same at ${slowdown}x slower CPU`, await times(slowdown)),
    ];
  });
}

/** Runs in the page. */
async function moveSlider(count: number): Promise<number[]> {
  const slider = [...document.querySelectorAll<HTMLInputElement>(".plan-slider input")].at(-1)!;
  const drawn = document.querySelector(".plot-under")!;
  const times: number[] = [];
  for (let move = -10; move < count; move++) {
    slider.value = String(60 + ((move + 10) % 80));
    const redrawn = new Promise<void>((done) => {
      const observer = new MutationObserver(() => {
        observer.disconnect();
        done();
      });
      observer.observe(drawn, { childList: true });
    });
    const start_ms = performance.now();
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    await redrawn;
    drawn.getBoundingClientRect();
    const took_s = (performance.now() - start_ms) / 1000;
    if (move >= 0) times.push(took_s);
    await new Promise((next) => setTimeout(next, 30));
  }
  return times;
}

async function onSite<T>(
  browser: Browser,
  folder: string,
  hash: string,
  work: (page: Page) => Promise<T>,
): Promise<T> {
  const site = await serveSite(folder, { port: 0 });
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  try {
    const page = await context.newPage();
    await page.goto(site.url + hash);
    return await work(page);
  } finally {
    await context.close();
    await site.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}
