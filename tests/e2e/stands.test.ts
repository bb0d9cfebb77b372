import { readFileSync } from "node:fs";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { inject, test } from "vitest";
import { WRITTEN_HERON } from "../../app/demo/written.ts";
import { serveSite } from "../../app/serve/site.ts";
import { parseStand } from "../../core/exchange/parse-stand.ts";
import { editJson } from "../edit-json.ts";
import { pictures } from "./bench-page.ts";
import { seenByPhone, shoot } from "./eyes.ts";
import { installed, phones, SMALL_PHONE } from "./phones.ts";

/** A team's own stand: from an invented one's file, changed, into a phone, on to another, and into a run. */

const onPhone = phones();
const LIMIT_ms = 300_000;

const faultsOf = async (page: Page): Promise<readonly unknown[]> => {
  const { violations } = await new AxeBuilder({ page }).analyze();
  const across = await page.evaluate(() => document.documentElement.scrollWidth);
  return [
    ...violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]),
    ...(across > SMALL_PHONE.width ? [`the page is ${across} px wide`] : []),
  ];
};

const bringIn = (page: Page, text: string, name = "kestrel.json") =>
  page
    .getByLabel("Choose files")
    .setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });

/** Heron's file, as the page saves it. */
const savedHeron = async (page: Page) => {
  const download = page.waitForEvent("download");
  await page.getByRole("article", { name: "Heron" }).getByRole("button", { name: "Save its file" }).click();
  return readFileSync(await (await download).path(), "utf8");
};

const KESTREL = {
  "rig.id": "kestrel",
  "rig.name": "Kestrel",
  "rig.letter": "N",
  "procedure.id": "kestrel-run",
  "procedure.forRig": "kestrel",
};

test.concurrent(
  "a stand of one's own is brought in, looked at, kept, and run on, with the server gone",
  { timeout: LIMIT_ms },
  onPhone(async ({ page, crew }, expect) => {
    const site = await serveSite(inject("siteFolder"), { port: 0 });
    await installed({ page, url: site.url });
    await site.stop();
    await page.goto(`${site.url}#/stands`);
    const heron = await savedHeron(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.screenshot({ path: join(pictures, "stands.png"), fullPage: true });

    await bringIn(page, heron, "heron.json");
    await page.getByRole("heading", { name: "Not kept: one fault" }).waitFor();
    await page.getByText("Give your stand an id of its own").waitFor();

    await bringIn(page, editJson(heron, KESTREL));
    const check = page.getByRole("region", { name: "Kestrel: look before you keep it" });
    await check.waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await page.screenshot({ path: join(pictures, "stand-check.png"), fullPage: true });
    await check.getByRole("button", { name: "Keep this stand" }).click();
    await page.getByText("Kept: Kestrel.").waitFor();

    await bringIn(page, editJson(heron, { ...KESTREL, "rig.bottle.limit_Pa": 400_000 }));
    await check.waitFor();
    await check.getByText("from 500000 to 400000").waitFor();
    await page.screenshot({ path: join(pictures, "stand-change.png"), fullPage: true });
    await check.getByRole("button", { name: "Leave it" }).click();

    await page.getByRole("link", { name: "Start" }).click();
    const choice = page.getByRole("listitem").filter({ hasText: "Kestrel" }).first();
    await choice.waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await page.screenshot({ path: join(pictures, "start-own-stand.png"), fullPage: true });
    await choice.getByRole("button", { name: "Start" }).click();
    const read = parseStand({ name: "kestrel.json", text: editJson(heron, KESTREL) });
    if (!read.ok) throw new Error(JSON.stringify(read.issues));
    crew.standsAt(read.value);
    await crew.until((screen) => screen.startsWith("step water "));

    await page.goto(`${site.url}#/stands`);
    const own = page.getByRole("article", { name: "Kestrel" });
    await own.getByRole("button", { name: "Put away" }).click();
    await own.getByRole("button", { name: "Bring back" }).waitFor();
    await page.goto(`${site.url}#/`);
    await page.getByRole("heading", { name: "Runs on this device" }).waitFor();
    expect(await page.getByRole("heading", { name: "Invented stands" }).count()).toBe(0);
    expect(await page.getByRole("link", { name: /N-\d+-\d+ Kestrel/ }).count()).toBe(1);
  }),
);

test.concurrent(
  "a file with twenty faults is not kept, and lists all twenty",
  { timeout: LIMIT_ms },
  onPhone(async ({ page, url }, expect) => {
    await page.goto(`${url}#/stands`);
    const edits: Readonly<Record<string, unknown>> = {
      ...Object.fromEntries(
        Object.keys(WRITTEN_HERON.rig.limits).map((key) => [`rig.limits.${key}`, "much"]),
      ),
      ...Object.fromEntries(
        ["fill", "pull", "supply", "opening", "emptying"].map((key) => [`rig.${key}`, undefined]),
      ),
      ...Object.fromEntries(["title", "revision", "author"].map((key) => [`procedure.${key}`, undefined])),
      ...Object.fromEntries(
        ["filling", "sealing", "mounting"].map((phase) => [`procedure.phases.${phase}.0.role`, "nobody"]),
      ),
    };
    const faulty = editJson(editJson(await savedHeron(page), KESTREL), edits);
    const wanted = Object.keys(edits).map((path) => path.replace(".", ", ").replace(".0.", "[0]."));
    expect(wanted.length).toBeGreaterThanOrEqual(20);
    await bringIn(page, faulty);
    await page.getByRole("heading", { name: /^Not kept: \d+ faults$/ }).waitFor();
    const places = await page.locator(".stand-faults li > b").allInnerTexts();
    expect(wanted.filter((place) => !places.includes(`kestrel.json, ${place}`))).toEqual([]);
    expect(await faultsOf(page)).toEqual([]);
    await page.screenshot({ path: join(pictures, "stand-faults.png"), fullPage: true });
    expect(await page.getByRole("article", { name: "Kestrel" }).count()).toBe(0);
  }),
);

test.concurrent(
  "a stand goes from one screen to another phone's camera, and is the same there",
  { timeout: LIMIT_ms },
  onPhone(async ({ page, url, context }, expect) => {
    await page.goto(`${url}#/stands`);
    await bringIn(page, editJson(await savedHeron(page), KESTREL));
    await page.getByRole("button", { name: "Keep this stand" }).click();
    const own = page.getByRole("article", { name: "Kestrel" });
    await own.getByText("Its numbers and its ground").click();
    const mark = await own.getByText("Mark of this version").innerText();
    await own.getByRole("button", { name: "Show as codes" }).click();
    await page.getByRole("heading", { name: /^kestrel as \d+ codes$/ }).waitFor();
    await page.screenshot({ path: join(pictures, "stand-codes.png") });
    await seenByPhone(context, await shoot(page), async (seeing) => {
      await seeing.goto(`${url}#/stands`);
      await seeing.getByRole("button", { name: "Read codes" }).click();
      await seeing.locator(".frames-in li[data-in=true]").first().waitFor();
      expect(await faultsOf(seeing)).toEqual([]);
      await seeing.screenshot({ path: join(pictures, "stand-reading.png"), fullPage: true });
      await seeing.getByRole("button", { name: "Keep this stand" }).click({ timeout: 120_000 });
      const there = seeing.getByRole("article", { name: "Kestrel" });
      await there.getByText("Its numbers and its ground").click();
      expect(await there.getByText("Mark of this version").innerText()).toBe(mark);
    });
  }),
);
