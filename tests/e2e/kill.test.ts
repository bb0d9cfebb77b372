import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { build } from "vite";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { type Chance, chance } from "../../app/demo/term/chance.ts";
import { type Site, serveSite } from "../../app/serve/site.ts";
import { openKillable } from "../browser/killable-browser.ts";
import type { Opened } from "./kill-page/page.ts";

const KILLS = 60;
const PHONES = 3;
/** A tap takes 5 to 80 ms to its confirmation here: the kill falls anywhere in that time, or just after. */
const KILL_WITHIN_MS = 90;

let folder: string;
let site: Site;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "fourfast-kill-"));
  const root = new URL("kill-page/", import.meta.url).pathname;
  const outDir = join(folder, "site");
  await build({
    root,
    configFile: false,
    logLevel: "warn",
    build: { outDir, emptyOutDir: true, target: "es2022" },
  });
  site = await serveSite(outDir, { port: 0 });
});
afterAll(async () => {
  await site.stop();
  rmSync(folder, { recursive: true, force: true });
});

type Life = { readonly found: Opened; readonly confirmed: readonly number[]; readonly tapped: number };

const deferred = <T>() => {
  let resolve: (value: T) => void = () => {};
  let reject: (fault: Error) => void = () => {};
  const promise = new Promise<T>((yes, no) => {
    resolve = yes;
    reject = no;
  });
  return { promise, resolve, reject };
};

/** Opens the page, taps, and kills the process somewhere between a tap and its confirmation. */
const live = async (profile: string, luck: Chance): Promise<Life> => {
  const { browser, kill } = await openKillable(profile);
  try {
    const [context] = browser.contexts();
    const page = await context?.newPage();
    if (!page) throw new Error("the browser has no page");
    const confirmed: number[] = [];
    await page.exposeFunction("confirmed", (number: number) => void confirmed.push(number));
    const { promise: opened, resolve, reject } = deferred<Opened>();
    // A page that stumbles says so at once, and is not waited for.
    page.on("pageerror", reject);
    await page.exposeFunction("opened", resolve);
    await page.goto(site.url);
    const found = await opened;
    const box = await page.locator("#tap").boundingBox();
    const tap = (): Promise<void> => page.mouse.click((box?.x ?? 0) + 5, (box?.y ?? 0) + 5);
    const taps = 1 + Math.floor(luck.next() * 5);
    for (let i = 1; i < taps; i++) {
      await tap();
      await pause(luck.between(0, 30));
    }
    void tap().catch(() => {});
    await pause(luck.between(0, KILL_WITHIN_MS));
    await kill();
    return { found, confirmed, tapped: taps };
  } finally {
    await kill();
  }
};

type Phone = { readonly confirmed: number; readonly unconfirmed: number; readonly lost: readonly number[] };

/** One phone, killed again and again; what it had confirmed is kept here, outside it. */
const killAgainAndAgain = async (profile: string, kills: number, luck: Chance): Promise<Phone> => {
  const confirmed = new Set<number>();
  const lost: number[] = [];
  let unconfirmed = 0;
  for (let i = 0; i <= kills; i++) {
    const { found, ...life } = await live(profile, luck);
    const logged = new Set(found.logged);
    lost.push(...[...confirmed].filter((number) => !logged.has(number)));
    expect(found.faults).toEqual([]);
    expect(found.logged).toEqual([...logged]);
    if (i > 0) expect(found).toMatchObject({ state: "preparing", hold: "restart", restarts: i });
    for (const number of life.confirmed) confirmed.add(number);
    unconfirmed += life.tapped - life.confirmed.length;
  }
  return { confirmed: confirmed.size, unconfirmed, lost };
};

test(`killed ${KILLS} times between tap and confirmation, the browser gives back everything it had confirmed`, async () => {
  const seed = inject("seed");
  // Side by side, since a browser that starts mostly waits.
  const phones = await Promise.all(
    Array.from({ length: PHONES }, (_, i) =>
      killAgainAndAgain(join(folder, `profile-${i}`), KILLS / PHONES, chance(seed + i)),
    ),
  );
  const sum = (of: (phone: Phone) => number): number => phones.reduce((all, phone) => all + of(phone), 0);
  const confirmed = sum((phone) => phone.confirmed);
  const unconfirmed = sum((phone) => phone.unconfirmed);
  console.log(`${KILLS} kills, ${confirmed} taps confirmed, ${unconfirmed} killed before it`);
  expect(phones.flatMap(({ lost }) => lost)).toEqual([]);
  expect(confirmed).toBeGreaterThan(KILLS / 2);
  // A kill that always comes too late would prove nothing.
  expect(unconfirmed).toBeGreaterThan(KILLS / 6);
}, 900_000);
