import { mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { termRuns } from "../../app/demo/term/term.ts";
import { buildSite } from "../../app/serve/build-site.ts";
import { serveSite } from "../../app/serve/site.ts";
import { writeRunFile } from "../../core/exchange/run-file.ts";
import { Crew } from "../e2e/crew.ts";
import { openBrowser } from "./open-browser.ts";

/**
 * `npm run pictures`: the app as README and the install dialog show it, taken from the app itself. A crew on the
 * phone gets as far as the restraints; the bench gets that stand's record and a run file, both SYNTHETIC.
 */
const target = new URL("../../app/public/screenshots/", import.meta.url).pathname;
const record = new URL("../records/heron-01.csv", import.meta.url);

mkdirSync(target, { recursive: true });
const folder = mkdtempSync(join(tmpdir(), "fourfast-pictures-"));
await buildSite(folder);
const site = await serveSite(folder, { port: 0 });
const browser = await openBrowser();
try {
  await stand();
  await bench();
} finally {
  await browser.close();
  await site.stop();
  rmSync(folder, { recursive: true, force: true });
}

async function stand(): Promise<void> {
  const phone = {
    viewport: { width: 360, height: 640 },
    deviceScaleFactor: 2,
    hasTouch: true,
    isMobile: true,
  };
  const page = await (await browser.newContext(phone)).newPage();
  const crew = await new Crew(page).start(site.url, /Heron/);
  await crew.until((screen) => screen.startsWith("restraint 1 C"));
  await save(page, "stand.png");
}

async function bench(): Promise<void> {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 960 } })).newPage();
  await page.goto(`${site.url}#/bench`);
  const run = runOfTheRecord();
  await page.locator('input[type="file"]').setInputFiles([
    { name: `${run.code}.txt`, mimeType: "text/plain", buffer: Buffer.from(run.text) },
    { name: `${run.code}.csv`, mimeType: "text/plain", buffer: readFileSync(record) },
  ]);
  await page
    .getByRole("link", { name: new RegExp(`^${run.code} `) })
    .first()
    .click();
  await page.getByRole("button", { name: /named by code/ }).click();
  await page.locator(".result").waitFor();
  await page.locator("svg.plot-picture").nth(1).waitFor();
  await save(page, "bench.png");
}

/** A run of the demo term with the fill and the pressure that the record was made with. */
function runOfTheRecord(): { code: string; text: string } {
  for (const { plan, log, documents, entries } of termRuns()) {
    if (plan.water_kg !== 0.6 || plan.set_Pa !== 300_000) continue;
    const text = writeRunFile({ run: plan.code, log, ...documents, entries });
    if (text.ok) return { code: plan.code, text: text.value };
  }
  throw new Error("the demo term has no run with the record's fill and pressure");
}

async function save(page: Page, name: string): Promise<void> {
  await page.screenshot({ path: join(target, name) });
  console.log(`app/public/screenshots/${name}`);
}
