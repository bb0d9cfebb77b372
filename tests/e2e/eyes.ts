import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { openBrowser } from "../browser/open-browser.ts";
import { film } from "./film.ts";
import { SMALL_PHONE } from "./phones.ts";

/** Browsers whose camera sees a film of another device's screen. */

/** @param reel  what its camera sees; without one, Chromium's own test picture */
export const openEyes = (reel?: string): Promise<Browser> =>
  openBrowser([
    "--use-fake-ui-for-media-stream",
    "--use-fake-device-for-media-stream",
    ...(reel === undefined ? [] : [`--use-file-for-fake-video-capture=${reel}`]),
  ]);

/** Every code once, turned by hand. */
export const shoot = async (page: Page): Promise<readonly Buffer[]> => {
  await page.getByRole("button", { name: "Pause" }).click();
  const count = Number(
    /as (\d+) codes/.exec((await page.getByRole("heading").first().textContent()) ?? "")?.[1],
  );
  const screens: Buffer[] = [];
  for (let i = 0; i < count; i++) {
    screens.push(await page.screenshot());
    await page.getByRole("button", { name: "Next" }).click();
  }
  return screens;
};

/** A phone that holds its camera before these screens, for as long as the play takes. */
export async function seenByPhone(
  context: BrowserContext,
  screens: readonly Buffer[],
  play: (phone: Page) => Promise<void>,
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "fourfast-eyes-"));
  const reel = join(folder, "reel.y4m");
  const blank = await context.newPage();
  await film(blank, screens, reel);
  await blank.close();
  const eyes = await openEyes(reel);
  try {
    const phone = await eyes.newContext({ viewport: SMALL_PHONE, permissions: ["camera"] });
    await play(await phone.newPage());
  } finally {
    await eyes.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
