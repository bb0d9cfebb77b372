import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { inject, test } from "vitest";
import { WRITTEN_HERON } from "../../app/demo/written.ts";
import { serveSite } from "../../app/serve/site.ts";
import { readRunFile } from "../../core/exchange/read-run-file.ts";
import { seenByPhone } from "./eyes.ts";
import { installed, phones, SMALL_PHONE } from "./phones.ts";

/** From the plan at the desk to a run at the stand and back into the plan, with the server gone. */

const onPhone = phones();
const LIMIT_ms = 300_000;
const pictures = new URL("../../.cache/pictures/", import.meta.url).pathname;
mkdirSync(pictures, { recursive: true });

test.concurrent(
  "a shot that was planned is offered, asked for, run, and counted",
  { timeout: LIMIT_ms },
  onPhone(async ({ page, crew }, expect) => {
    const site = await serveSite(inject("siteFolder"), { port: 0 });
    await installed({ page, url: site.url });
    await site.stop();

    await page.goto(`${site.url}#/plan`);
    // The crew of tests/e2e/crew.ts has a conductor KR1: crew KR.
    await page.getByLabel("Crews", { exact: true }).fill("KR");
    await page.getByLabel("Water levels, g").fill("450");
    await page.getByLabel("Pressure levels, bar").fill("2.5");
    await page.getByLabel("Times each").fill("2");
    await page.getByRole("button", { name: "Keep this matrix" }).click();
    await page.getByRole("button", { name: "Kept" }).waitFor();

    await page.goto(`${site.url}#/`);
    const queue = page.getByRole("region", { name: "Planned shots" });
    await queue.waitFor();
    expect(await queue.innerText()).toContain("Planned: 0 of 2 run, 2 to run.");
    expect(await queue.locator(".queue-numbers").innerText()).toBe("450 g at 2.5 bar");
    await page.screenshot({ path: join(pictures, "start-queue.png"), fullPage: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(SMALL_PHONE.width);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);

    await queue.getByRole("button", { name: "Start this shot" }).click();
    const { rig, written } = WRITTEN_HERON;
    const planned = {
      fill: { ...rig.fill, water_kg: 0.45 },
      pressure: { ...rig.pressure, set_Pa: 250_000 },
    };
    crew.standsAt({ rig: { ...rig, ...planned }, written });
    await crew.until((screen) => screen.startsWith("step water "));
    expect(await page.locator("main").innerText()).toContain("Fill the bottle with 450 g of water");
    await crew.until((screen) => screen.startsWith("step pressure-read"));
    expect(await page.locator(".judged").innerText()).toBe("Band: 2.4 to 2.6 bar");
    await crew.until((screen) => screen === "over");
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save the run" }).click();
    const run = readRunFile(readFileSync(await (await download).path(), "utf8"));
    expect(run.ok && [run.value.rig.fill.water_kg, run.value.rig.pressure.set_Pa]).toEqual([0.45, 250_000]);

    await page.goto(`${site.url}#/`);
    await queue.waitFor();
    expect(await queue.innerText()).toContain("Planned: 1 of 2 run, 1 to run.");
    await page.goto(`${site.url}#/plan`);
    await page.getByText("1 of 2 run").waitFor();
  }),
);

test.concurrent(
  "a plan goes from the desk to a phone as its file, and off the screen by the phone's camera",
  { timeout: LIMIT_ms },
  onPhone(async ({ page, url, context }, expect) => {
    await page.goto(`${url}#/plan`);
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Save for the stand" }).click();
    const path = await (await download).path();
    await page.getByRole("button", { name: "Show for the stand" }).click();
    const code = page.getByRole("img", { name: "The plan as a code" });
    await code.waitFor();
    expect((await code.boundingBox())?.width).toBeLessThanOrEqual(SMALL_PHONE.width);
    await page.screenshot({ path: join(pictures, "plan-code.png"), fullPage: true });
    const screen = await code.screenshot();

    const other = await context.browser()!.newContext({ viewport: SMALL_PHONE });
    const phone = await other.newPage();
    await phone.goto(url);
    await phone.getByLabel("Choose its file").setInputFiles(path);
    await phone.getByRole("region", { name: "Planned shots" }).waitFor();
    expect(await phone.getByText(/^Kept: \d+ shots/).innerText()).toBe(
      'Kept: 24 shots for the stand "heron".',
    );
    await other.close();

    await seenByPhone(context, [screen], async (seeing) => {
      await seeing.goto(url);
      await seeing.getByRole("link", { name: "Read its code" }).click();
      await seeing.getByRole("heading", { name: "The plan is on this phone" }).waitFor({ timeout: 90_000 });
      await seeing.getByRole("link", { name: "To the start page" }).click();
      await seeing.getByRole("region", { name: "Planned shots" }).waitFor();
    });
  }),
);
