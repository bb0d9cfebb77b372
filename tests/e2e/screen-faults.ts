import type { Page } from "playwright-core";
import { AT_320, AT_360, controlsOf, faultsOf, type Least } from "./controls.ts";

type Size = { readonly width: number; readonly height: number };

/** Lists that may be longer than a phone: read, not acted on. */
const MAY_SCROLL = /^panel log/;

/**
 * All that a picture of a screen would show a careful eye: controls too small, too near, covered or out of
 * reach; a page that scrolls; words cut off, beside the screen, under a control or too small to be read.
 */
export async function screenFaults(
  page: Page,
  screen: string,
  size: Size,
  least: Least = AT_360,
): Promise<readonly string[]> {
  const over_px = await page.locator("main.page").evaluate((main) => main.scrollHeight - main.clientHeight);
  const faults: string[] = [];
  if (!MAY_SCROLL.test(screen)) faults.push(...faultsOf(await controlsOf(page), size, least));
  // At SAFETY's lower bound what is read may be longer than the page; what answers it stays in sight.
  const isLeast = least === AT_320;
  if (over_px <= 0 || !isLeast) faults.push(...(await pageFaults(page)));
  if (over_px > 0 && !isLeast && !MAY_SCROLL.test(screen)) faults.push(`scrolls by ${over_px} px`);
  return faults.map((fault) => `${screen}: ${fault}`);
}

/** What is wrong with the words of the stand's page as they are drawn. */
const pageFaults = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const faults: string[] = [];
    const shown = document.querySelector("main.page")!.getBoundingClientRect();
    const words = document.createTreeWalker(document.querySelector(".stand")!, NodeFilter.SHOW_TEXT);
    for (let node = words.nextNode(); node; node = words.nextNode()) {
      const element = node.parentElement!;
      const text = node.textContent?.trim() ?? "";
      if (text === "" || element.closest(".unseen, svg, .heard")) continue;
      const style = getComputedStyle(element);
      const range = document.createRange();
      range.selectNodeContents(node);
      const boxes = [...range.getClientRects()].filter(({ width }) => width > 0);
      if (style.visibility === "hidden" || boxes.length === 0) continue;
      const name = `"${text.slice(0, 40)}"`;
      const type_px = Number.parseFloat(style.fontSize);
      if (type_px < 18) faults.push(`${name} is ${type_px} px`);
      // Cut to one or two lines on purpose: the place in the stage, and what was read on the page before.
      const isCut = element.closest(".near-by, .brief, .two-lines") !== null;
      const button = element.closest("button, .button")?.getBoundingClientRect();
      for (const { left, right, top, bottom } of boxes) {
        if (!isCut && (left < -0.5 || right > innerWidth + 0.5)) faults.push(`${name} runs off the screen`);
        if (
          button &&
          !isCut &&
          (left < button.left || right > button.right || top < button.top || bottom > button.bottom)
        )
          faults.push(`${name} sticks out of its button`);
      }
      const [{ left, right, top, bottom } = boxes[0]!] = boxes;
      const at = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
      // What a list has scrolled off is no fault of its words: that it scrolls is told apart.
      const isOff = element.closest("main") !== null && (top < shown.top || bottom > shown.bottom);
      // For five seconds what the page answers lies over the strip, on purpose.
      const isAnswered = at !== null && at.closest(".heard") !== null;
      if (!isCut && !isOff && !isAnswered && at && !element.contains(at) && !at.contains(element))
        faults.push(`${name} is covered`);
    }
    return [...new Set(faults)];
  });
