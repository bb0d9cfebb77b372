import { inject, test } from "vitest";
import { serveSite } from "../../app/serve/site.ts";
import { AT_360, controlsOf, faultsOf } from "./controls.ts";
import { Crew } from "./crew.ts";
import { installed, phones, SMALL_PHONE } from "./phones.ts";
import { screenFaults } from "./screen-faults.ts";

/** The stand face in a real browser, on the built app, with the server gone after the first load. */

const onPhone = phones();
const LIMIT_ms = 300_000;
const TINY_PHONE = { width: 320, height: 568 };

test.concurrent.for(["Heron", "Kingfisher"])(
  "a crew takes a nominal run on %s to its end, offline, in at most 70 taps and two hand-overs, every control in reach",
  { timeout: LIMIT_ms },
  (stand, context) =>
    onPhone(async ({ page, context: phone }, expect) => {
      const faults: string[] = [];
      const sizes = new Map<string, string>();
      const crew = new Crew(page, async (screen) => {
        for (const { name, kind, width, height } of await controlsOf(page))
          sizes.set(`${kind} ${Math.round(width)} x ${Math.round(height)}`, name);
        faults.push(...(await screenFaults(page, screen, SMALL_PHONE)));
      });
      const site = await serveSite(inject("siteFolder"), { port: 0 });
      await installed({ page, url: site.url });
      await site.stop();
      await crew.start(site.url, new RegExp(stand));
      await crew.until((screen) => screen === "over");
      console.log(
        `${stand}: ${crew.taps} taps, ${crew.keystrokes} keystrokes, ${crew.handOvers} hand-overs; sizes met:\n` +
          [...sizes]
            .map(([size, name]) => `  ${size}  "${name}"`)
            .sort()
            .join("\n"),
      );
      expect(faults).toEqual([]);
      expect(crew.taps).toBeLessThanOrEqual(70);
      expect(crew.handOvers).toBe(2);
      expect(await page.locator(".run-code").innerText()).toMatch(/^[HK]-\d{3}-01$/);
      expect(phone.pages()).toHaveLength(1);
    })(context),
);

test.concurrent(
  "on the smallest phone nothing critical is under 96 x 72, and what answers a step needs no scrolling",
  { timeout: LIMIT_ms },
  onPhone(async ({ url, crew }, expect) => {
    await crew.start(url, /Heron/);
    await crew.report("Menu…");
    await crew.screen();
    await crew.tapNamed("Back to the run");
    expect(await crew.until((screen) => screen.startsWith("gate air-called"))).not.toContain("panel");
  }, TINY_PHONE),
);

test("the measure itself finds what is too small, too near, too low or covered", ({ expect }) => {
  const sound = { name: "a", kind: "critical", x: 14, y: 100, width: 130, height: 90, hit: true } as const;
  const faults = (...more: (typeof sound | { readonly y: number })[]) =>
    faultsOf(
      more.map((one) => ({ ...sound, ...one })),
      SMALL_PHONE,
      AT_360,
    );
  expect(faults(sound)).toEqual([]);
  expect(faultsOf([{ ...sound, width: 120 }], SMALL_PHONE, AT_360)).toHaveLength(1);
  expect(faultsOf([{ ...sound, hit: false }], SMALL_PHONE, AT_360)).toHaveLength(1);
  expect(faults(sound, { y: 200 })).toHaveLength(1);
  expect(faults({ y: 500 })).toHaveLength(1);
});
