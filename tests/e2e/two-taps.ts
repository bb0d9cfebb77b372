import type { ExpectStatic } from "vitest";
import type { Crew } from "./crew.ts";

/** Without holding: what is confirmed can be read, and no finger that taps twice can confirm it (SAFETY A36). */
export const confirmFarAway = async (crew: Crew, expect: ExpectStatic): Promise<void> => {
  const { page } = crew;
  const heading = page.locator(".page h1").first();
  const said = await heading.innerText();
  const first = (await page.getByRole("button", { name: /two taps/ }).boundingBox())!;
  await crew.tapNamed(/two taps/);
  await crew.screen();
  const confirm = (await page.getByRole("button", { name: /^Confirm/ }).boundingBox())!;
  expect(first.y - (confirm.y + confirm.height)).toBeGreaterThanOrEqual(88);
  expect(await heading.innerText(), "what is confirmed stays on the page").toBe(said);
  expect(await page.locator(".page button").count(), "confirm, or not now").toBe(2);
  await crew.tapNamed(/^Confirm/);
};
