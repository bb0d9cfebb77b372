import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "vitest";
import { benchForTests, bring, pictures, runFile } from "./bench-page.ts";
import { SMALL_PHONE } from "./phones.ts";

const openBench = benchForTests();
const run = runFile();

test.each([{ width: 1280, height: 800 }, SMALL_PHONE])(
  "a run is read and signed by somebody who had no part in it, at $width x $height, and stays signed",
  async (viewport) => {
    const { page, complaints, go, close } = await openBench(viewport);
    await bring(page, run);
    await page
      .getByRole("link", { name: new RegExp(`^${run.code} `) })
      .first()
      .waitFor();
    const review = page.url().replace(/#.*/, "#/review");
    await page.goto(review);
    await page.getByRole("button", { name: run.code }).click();
    const sheet = page.getByRole("region", { name: "Sign-off" });
    await sheet.getByLabel("Your code").fill("r9");
    await sheet.getByLabel("In words").fill("Read with the crew.");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(viewport.width);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
    await page.screenshot({ path: join(pictures, `review-sign-${viewport.width}.png`), fullPage: true });
    await sheet.getByRole("button", { name: "Sign this review" }).click();
    await sheet.getByText("R9: seen, nothing to do").waitFor();
    await page.reload();
    const row = page.getByRole("row", { name: new RegExp(`^${run.code}`) });
    await row.getByText("R9: seen, nothing to do.").waitFor();
    expect(complaints).toEqual([]);
    await go("");
    await close();
  },
);
