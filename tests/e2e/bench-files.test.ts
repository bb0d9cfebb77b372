import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { benchForTests, bring, heron01, openRun, pictures, runFile, settled } from "./bench-page.ts";

/** Files of every kind, a whole term, a narrow screen, and readers who do not see it. */
const openBench = benchForTests();

test("a force file of the wrong shape says in which line, and an edited run file which line was touched", async () => {
  const { page, close } = await openBench();
  await bring(page, { name: "notes.csv", text: "Dear all,\nthe recorder was off.\nSorry!\n" });
  await page
    .getByRole("link", { name: /notes\.csv/ })
    .first()
    .click();
  await page.getByRole("heading", { name: "It cannot be read" }).waitFor();
  expect(await page.locator(".issues").first().textContent()).toMatch(/line \d/);

  const run = runFile();
  const lines = run.text.split("\n");
  const edited = lines.map((line, i) => (i === 9 ? line.replace(/"at":\d+/, '"at":1') : line)).join("\n");
  await bring(page, { name: "edited.txt", text: edited });
  const alert = page.getByRole("alert");
  await alert.waitFor();
  expect(await alert.textContent()).toContain("line 10");
  await bring(page, { name: "cut.txt", text: run.text.slice(0, run.text.length / 2) });
  await page.getByRole("alert").nth(1).waitFor();
  expect(await page.getByRole("alert").nth(1).textContent()).toMatch(/line \d+/);
  await close();
});

/** Drops a record of so many rows, made in the page out of one block again and again. */
const dropLong = (page: Page, name: string, rows: number) =>
  page.evaluate(
    ({ name, rows }) => {
      const row = (i: number) => `${Math.sin(i).toFixed(4)},${Math.cos(i).toFixed(4)}\n`;
      const block = Array.from({ length: 10_000 }, (_, i) => row(i)).join("");
      const parts = ["# sampling 4000 Hz\nnorth_N,south_N\n", ...Array(rows / 10_000).fill(block)];
      const transfer = new DataTransfer();
      transfer.items.add(new File(parts, name));
      window.dispatchEvent(new DragEvent("drop", { dataTransfer: transfer, cancelable: true }));
    },
    { name, rows },
  );

test("the page answers while a million rows come in, and a long read can be stopped", async () => {
  const { page, close } = await openBench();
  await page.evaluate(() => {
    const beats = window as unknown as { longest_ms: number };
    beats.longest_ms = 0;
    let last_ms = performance.now();
    setInterval(() => {
      beats.longest_ms = Math.max(beats.longest_ms, performance.now() - last_ms);
      last_ms = performance.now();
    }, 4);
  });
  const start_ms = Date.now();
  await dropLong(page, "long.csv", 1_000_000);
  await page
    .getByRole("link", { name: /long\.csv/ })
    .first()
    .waitFor();
  const longest_ms = await page.evaluate(() => (window as unknown as { longest_ms: number }).longest_ms);
  console.log(
    `a million rows on the desk after ${Date.now() - start_ms} ms; longest pause of the page ${longest_ms.toFixed(0)} ms`,
  );

  await dropLong(page, "longer.csv", 4_000_000);
  await page.getByText(/Reading longer\.csv/).waitFor();
  await page.getByRole("button", { name: "Stop" }).first().click();
  await page.getByText(/Reading longer\.csv/).waitFor({ state: "detached" });
  expect(await page.getByRole("link", { name: /longer\.csv/ }).count()).toBe(0);
  await close();
});

test("the demo term opens with one click, marked SYNTHETIC, and every firing is suggested to a run", async () => {
  const { page, complaints, close } = await openBench();
  await page.getByRole("button", { name: "Open the demo term" }).click();
  await page.waitForFunction(
    () =>
      !document.querySelector(".under-way") &&
      [...document.querySelectorAll(".desk-lists .item-state")].filter((one) =>
        one.textContent?.includes("N·s"),
      ).length === 24,
    undefined,
    { timeout: 90_000 },
  );
  await page.getByRole("button", { name: "Confirm 23 named by code" }).click();
  await page.getByRole("link", { name: "Series of all runs" }).click();
  await page.getByRole("heading", { name: /Series of 24 runs/ }).waitFor();
  expect(await page.locator("main .tag.synthetic").first().textContent()).toBe("SYNTHETIC");
  await page.locator("svg.plot-picture").first().waitFor();
  await page.screenshot({ path: join(pictures, "bench-series-1280.png"), fullPage: true });
  expect(await page.getByText("Too far for its company").count()).toBe(1);
  expect(complaints).toEqual([]);
  await close();
});

test("nothing runs out of a screen of 360 px, with a run open", async () => {
  const { page, close } = await openBench({ width: 360, height: 640 });
  const run = runFile();
  await bring(page, run, { name: `${run.code}.csv`, text: heron01.text });
  await openRun(page, run.code);
  await page.locator(".result").waitFor();
  await page.locator("svg.plot-picture").nth(1).waitFor();
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  await page.screenshot({ path: join(pictures, "bench-run-360.png"), fullPage: true });
  await close();
});

test("the machine's own check of accessibility finds nothing on a run, a file and the series", async () => {
  const { page, close } = await openBench();
  const run = runFile();
  await bring(page, run, { name: `${run.code}.csv`, text: heron01.text });
  for (const name of [new RegExp(`^${run.code} `), /\.csv/, "Series of all runs"]) {
    await page.getByRole("link", { name }).first().click();
    await settled(page);
    await page.locator("svg.plot-picture").first().waitFor();
    await page.waitForTimeout(300);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
  }
  await close();
});
