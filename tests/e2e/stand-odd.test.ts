import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";
import { test } from "vitest";
import { AT_360, controlsOf, faultsOf } from "./controls.ts";
import { CODES, Crew } from "./crew.ts";
import { phones, SMALL_PHONE } from "./phones.ts";
import { fillStore } from "./scenes.ts";
import { confirmFarAway } from "./two-taps.ts";

/**
 * What goes wrong at a stand, by finger in a real browser: each leads to the safe side and is in the log.
 */

const onPhone = phones();
const LIMIT_ms = 300_000;

const heading = (page: Page) => page.locator(".page h1").first().innerText();

/** The types of the log's last entries, newest last, as they lie in the database. */
const logged = (page: Page, last: number): Promise<readonly string[]> =>
  page.evaluate(async (count) => {
    const open = indexedDB.open("fourfast");
    const database = await new Promise<IDBDatabase>((done, fail) => {
      open.onsuccess = () => done(open.result);
      open.onerror = () => fail(open.error);
    });
    const all = database.transaction("entries").objectStore("entries").getAll();
    const entries = await new Promise<{ event: { type: string } }[]>((done, fail) => {
      all.onsuccess = () => done(all.result);
      all.onerror = () => fail(all.error);
    });
    database.close();
    return entries.slice(-count).map(({ event }) => event.type);
  }, last);

test.concurrent(
  "a tap that comes with the change of the screen is dropped, said and logged",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("gate fill-called"));
    const button = page.locator(".page .go");
    const { x, y, width, height } = (await button.boundingBox())!;
    await button.tap();
    await page.locator('.stand[data-screen^="step water"]').waitFor();
    await page.touchscreen.tap(x + width / 2, y + height / 2);
    await crew.screen();
    const until = page.locator('.stand[data-screen^="gate seal-called"]');
    expect(await until.count()).toBe(0);
    expect(await page.locator(".heard").innerText()).toContain("Too soon");
    expect(await logged(page, 1)).toEqual(["refused"]);
  }),
  LIMIT_ms,
);

test.concurrent(
  "the first look finds one part closed: caught, looked at again, no hold",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("restraint 1 B"));
    await crew.tapNamed("Part closed");
    await crew.screen();
    expect(await heading(page)).toBe("B was part closed. Press it home. Touch it again.");
    await crew.tapNamed("Fully home");
    expect(await crew.screen()).toMatch(/^restraint 1 C/);
  }),
  LIMIT_ms,
);

test.concurrent(
  "a second look that differs is a hold for two people, then the whole proof again",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("restraint 2 C"));
    await crew.tapNamed("Open");
    expect(await crew.screen()).toMatch(/^hold/);
    expect(await heading(page)).toBe("C does not agree: fully home at the first look, open at the second.");
    await crew.tapNamed("Clear the hold");
    await crew.screen();
    await crew.tap("form.reading input");
    for (const _ of [1, 2]) {
      await crew.type(CODES.conductor);
      await crew.enter();
    }
    await crew.tapNamed("False alarm");
    const clear = page.getByRole("button", { name: "Clear the hold", exact: true });
    expect(await clear.getAttribute("aria-disabled"), "one person twice is not two").toBe("true");
    await page.reload();
    await crew.screen();
    await crew.tapNamed("Clear the hold");
    await crew.screen();
    await crew.clearHold("conductor", "verifier");
    await crew.tapNamed("Read. Go there");
    expect(await crew.screen(), "the phone goes back to the conductor").toBe("hand-over conductor");
    await crew.takePhone("conductor");
    expect(await crew.screen()).toMatch(/^restraint 1/);
  }),
  LIMIT_ms,
);

test.concurrent(
  "a report in an odd state is taken in two taps and leads to the safe side",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("step half"));
    const before = crew.taps;
    await crew.tapNamed("Say what happened");
    await crew.screen();
    await crew.tapNamed("It went early");
    await crew.screen();
    expect(crew.taps - before).toBe(2);
    expect(await page.locator(".making-safe-for").innerText()).toBe("It went. Show that it is empty.");
    expect(await logged(page, 1)).toEqual(["released"]);
  }),
  LIMIT_ms,
);

test.concurrent(
  "a missed window is named, costs nothing, and the last call is made again",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen === "count");
    await page.getByText("Window missed. Nobody pulls.").waitFor({ timeout: 10_000 });
    expect(faultsOf(await controlsOf(page), SMALL_PHONE, AT_360)).toEqual([]);
    await page.waitForTimeout(700);
    await crew.tapNamed("Nobody pulled");
    await crew.until((screen) => screen.startsWith("zero"));
    expect(await page.getByText("2 of 3 left").count()).toBe(1);
  }),
  LIMIT_ms,
);

test.concurrent(
  "a misfire has its name on the page, is emptied by a pull with the line clear, and waits the long wait",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen === "count");
    await crew.tapNamed("Nothing happened");
    await crew.screen();
    expect(await page.locator(".making-safe-for").innerText()).toContain("MISFIRE");
    await crew.until((screen) => screen.startsWith("empty"));
    if ((await crew.screen()).includes("clear")) await crew.tapNamed("Swept: all clear");
    await crew.screen();
    await confirmFarAway(crew, expect);
    expect(await crew.screen()).toBe("pulled");
    await crew.tapNamed("It went");
    await crew.until((screen) => screen === "waiting");
    const left_s = Number(await page.locator(".seconds-left b").innerText());
    expect(left_s).toBeGreaterThan(50);
  }),
  LIMIT_ms,
);

test.concurrent(
  "after the page was gone with pressure possible nothing leads on but making safe",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("gate pressure-called"));
    await page.reload();
    expect(await crew.screen()).toBe("unknown");
    expect(await page.locator(".plate-words").innerText()).toContain("TREAT AS PRESSURIZED");
    expect(await page.locator(".page button").count()).toBe(0);
    await crew.tapNamed("Make safe");
    expect(await crew.screen()).toMatch(/^step supply-shut/);
  }),
  LIMIT_ms,
);

test.concurrent(
  "back gesture, reload and a pull at the page do no harm to a cold run",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    const screen = await crew.until((name) => name.startsWith("acts collar-on"));
    for (const _ of [1, 2, 3]) {
      await page.goBack().catch(() => null);
      await page.waitForTimeout(300);
    }
    expect(await crew.screen()).toBe(screen);
    expect(
      await page.evaluate(() =>
        [document.documentElement, document.body].map((e) => getComputedStyle(e).overscrollBehaviorY),
      ),
    ).toEqual(["none", "none"]);
    await page.reload();
    expect(await crew.screen()).toMatch(/^hold/);
    expect(await heading(page)).toBe("Hold: the app was restarted");
    expect(await page.getByText(/To prove again/).count(), "nothing stood yet that falls").toBe(0);
  }),
  LIMIT_ms,
);

test.concurrent(
  "a store that refuses shows NOT SAVED, the gate stays shut, and nothing is lost",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("gate seal-called"));
    await fillStore(crew);
    await crew.tapNamed("Go to seal");
    await page.getByText("NOT SAVED. No gate opens.").waitFor({ timeout: 15_000 });
    expect(await crew.screen(), "it has a page of its own").toBe("panel unsaved");
    await crew.tapNamed("Back to the run");
    expect(await crew.screen()).toMatch(/^gate seal-called/);
    await crew.tapNamed("Hold");
    expect(await crew.screen(), "a hold shows at once, saved or not").toMatch(/^hold/);
    await page.evaluate(() => (window as unknown as { makeRoom: () => void }).makeRoom());
    await crew.tapNamed("On hold");
    await page.getByText("NOT SAVED").waitFor({ state: "detached", timeout: 15_000 });
    expect(await logged(page, 1)).toEqual(["hold-called"]);
  }),
  LIMIT_ms,
);

test.concurrent(
  "a second tab looks on; taking over is a restart, and the first one then looks on",
  onPhone(async ({ url, context, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("step slide-dry"));
    const second = await context.newPage();
    await second.goto(page.url());
    await second.getByText("Looking on.").waitFor();
    await second.getByRole("button", { name: "Take over" }).tap();
    await second.getByText("Hold: the app was restarted").waitFor();
    await page.bringToFront();
    await page.getByText("Looking on.").waitFor({ timeout: 15_000 });
    await page.getByText("Hold: the app was restarted").waitFor({ timeout: 15_000 });
    expect(await logged(page, 2)).toEqual(["restarted", "kept"]);
  }),
  LIMIT_ms,
);

test.concurrent(
  "works by keyboard alone, from the heading on",
  onPhone(async ({ url, page, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.until((screen) => screen.startsWith("step ready"));
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("H1");
    for (let tab = 0; tab < 12; tab += 1) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(() => document.activeElement?.textContent ?? "");
      if (at.startsWith("Charged, saving")) break;
    }
    await page.keyboard.press("Enter");
    expect(await crew.screen()).toMatch(/^step line-out/);
  }),
  LIMIT_ms,
);

test.concurrent.for(["day", "night"])(
  "an accessibility check finds nothing on the screens of a run, %s theme, at 7:1",
  { timeout: LIMIT_ms },
  (theme, context) =>
    onPhone(async ({ url, page }, expect) => {
      const faults: string[] = [];
      const kinds = new Set<string>();
      const check = async (screen: string) => {
        const [kind = ""] = screen.split(" ");
        if (kinds.has(kind)) return;
        kinds.add(kind);
        const { violations } = await new AxeBuilder({ page })
          .options({ rules: { "color-contrast-enhanced": { enabled: true } } })
          .analyze();
        for (const { id, nodes } of violations)
          faults.push(`${screen}: ${id} at ${nodes.map(({ target }) => target.join(" ")).join(", ")}`);
      };
      const crew = new Crew(page, check);
      await page.addInitScript((name) => {
        addEventListener("DOMContentLoaded", () => {
          document.documentElement.dataset["theme"] = name;
        });
      }, theme);
      await crew.start(url, /Heron/);
      await crew.until((screen) => screen.startsWith("step pull"));
      await crew.tapNamed("Say what happened");
      await crew.screen();
      await crew.tapNamed("Back to the run");
      await crew.tapNamed("Hold");
      await crew.screen();
      await page.reload();
      await crew.screen();
      await crew.tapNamed("Make safe");
      await crew.screen();
      expect(faults).toEqual([]);
      expect(kinds.size).toBeGreaterThan(5);
    })(context),
);

test.concurrent.for([
  ["twice the text", SMALL_PHONE, 200],
  ["on its side", { width: 640, height: 360 }, 100],
] as const)(
  "%s: hold and make safe stay in sight, and every other control can be reached",
  { timeout: LIMIT_ms },
  ([, viewport, percent], context) =>
    onPhone(async ({ url, page }, expect) => {
      await page.setViewportSize(viewport);
      await page.addInitScript((size) => {
        addEventListener("DOMContentLoaded", () => {
          document.documentElement.style.fontSize = `${size}%`;
        });
      }, percent);
      const faults: string[] = [];
      const crew = new Crew(page, async (screen) => {
        const safe = (await controlsOf(page)).filter(({ name }) => name === "Hold" || name === "Make safe");
        for (const { name, x, y, width, height, hit } of safe)
          if (!hit || x < 0 || y < 0 || x + width > viewport.width || y + height > viewport.height)
            faults.push(`${screen}: ${name} is out of sight`);
        if (safe.length !== 2) faults.push(`${screen}: ${safe.length} of the two`);
        for (const button of await page.locator(".page button").all()) {
          await button.scrollIntoViewIfNeeded();
          const { x, width } = (await button.boundingBox())!;
          if (x < 0 || x + width > viewport.width)
            faults.push(`${screen}: "${await button.innerText()}" sticks out`);
        }
        await page.locator("main").evaluate((main) => main.scrollTo(0, 0));
      });
      await crew.start(url, /Heron/);
      await crew.until((screen) => screen.startsWith("restraint 1 C"));
      expect(faults).toEqual([]);
    })(context),
);
