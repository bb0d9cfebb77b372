import type { Page } from "playwright-core";
import { WRITTEN } from "../../app/demo/written.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { askedAt } from "./instruments.ts";

/**
 * A crew of five with one phone: reads what is on the page, taps as a finger would, and counts. It knows
 * no procedure: whatever the screen asks for is what it does. Its numbers it has from the stand, never off the page.
 */
export const CODES = {
  conductor: "KR1",
  installer: "JO2",
  verifier: "MA3",
  releaser: "TI4",
  caller: "ED5",
} as const;

/** A critical control is not live before this long after its screen came (SAFETY A37), and a little more. */
const SETTLE_ms = 650;
const PRESS_ms = 1350;

export type Seen = (screen: string) => Promise<void> | void;

export class Crew {
  readonly page: Page;
  taps = 0;
  keystrokes = 0;
  handOvers = 0;
  readonly #seen: Seen;
  #last = "";
  #settled = "";
  #documents: WrittenDocuments | undefined;

  constructor(page: Page, seen: Seen = () => {}) {
    this.page = page;
    this.#seen = seen;
  }

  /** The stand before it, whose instruments it reads; for a planned shot with that shot's water and pressure. */
  standsAt(documents: WrittenDocuments): this {
    this.#documents = documents;
    return this;
  }

  /** Opens the app, and a run on the stand of this name. */
  async start(url: string, stand: RegExp, drill = false): Promise<this> {
    this.#documents = WRITTEN.find(({ rig }) => stand.test(rig.name));
    await this.page.goto(url);
    await this.page.getByRole("heading", { name: "Fourfast" }).waitFor();
    if (drill) await this.tap(".start-row .button");
    else
      await this.tapOn(
        this.page.locator(".stands li").filter({ hasText: stand }).getByRole("button", { name: "Start" }),
      );
    await this.screen();
    return this;
  }

  /** The name of the screen, once it has stood long enough to be answered. */
  async screen(): Promise<string> {
    const page = this.page;
    await page.locator(".stand[data-screen]").waitFor();
    const read = () => page.locator(".stand").getAttribute("data-screen");
    for (;;) {
      const before = await read();
      await page.waitForTimeout(before === this.#settled ? 60 : SETTLE_ms);
      const after = await read();
      const busy = await page.locator(".stand").getAttribute("data-busy");
      if (before !== after || after === null || busy === "true") continue;
      this.#settled = after;
      if (after !== this.#last) {
        this.#last = after;
        await this.#seen(after);
      }
      return after;
    }
  }

  async tap(selector: string): Promise<void> {
    await this.tapOn(this.page.locator(selector).first());
  }

  async tapOn(locator: ReturnType<Page["locator"]>): Promise<void> {
    this.taps += 1;
    this.#settled = "";
    await locator.tap();
  }

  async tapNamed(name: string | RegExp): Promise<void> {
    await this.tapOn(this.page.getByRole("button", { name }).first());
  }

  async type(words: string): Promise<void> {
    this.keystrokes += words.length;
    await this.page.keyboard.type(words);
  }

  async enter(): Promise<void> {
    this.keystrokes += 1;
    await this.page.keyboard.press("Enter");
  }

  /** Presses, holds until it is full, lifts. */
  async pressHold(): Promise<void> {
    this.taps += 1;
    const box = await this.page.locator(".press-hold").boundingBox();
    if (!box) throw new Error("nothing to press and hold");
    await this.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await this.page.mouse.down();
    await this.page.waitForTimeout(PRESS_ms);
    await this.page.mouse.up();
  }

  /** Goes on as nominal until `stop` says so of a screen; returns that screen. */
  async until(stop: (screen: string) => boolean): Promise<string> {
    for (;;) {
      const screen = await this.screen();
      if (stop(screen)) return screen;
      await this.answer(screen);
      await this.#changed(screen);
    }
  }

  async #changed(from: string): Promise<void> {
    await this.page
      .locator(`.stand:not([data-screen="${from}"])`)
      .waitFor({ timeout: 90_000 })
      .catch(() => {
        throw new Error(`nothing came after "${from}": ${this.#last}`);
      });
  }

  /** Does what a good day would: the good answer, the number that is wanted, the call. */
  async answer(screen: string): Promise<void> {
    const [kind = ""] = screen.split(" ");
    if (kind === "sign-on") return this.signOn();
    if (kind === "hand-over") return this.takePhone(screen.includes("verifier") ? "verifier" : "conductor");
    if (kind.startsWith("wait")) return this.approach();
    const page = this.page;
    if ((await page.locator(".answers-good .button").count()) > 0) return this.tap(".answers-good .button");
    if ((await page.locator("form.reading input").count()) > 0) return this.measure(screen);
    if ((await page.locator(".press-hold").count()) > 0) return this.pressHold();
    await page.locator(".page .go:not([aria-disabled])").first().waitFor({ timeout: 60_000 });
    await this.tap(".page .go:not([aria-disabled])");
  }

  async signOn(): Promise<void> {
    await this.tap(".sign-on input");
    for (const code of Object.values(CODES)) {
      await this.type(code);
      await this.enter();
    }
  }

  async takePhone(role: keyof typeof CODES): Promise<void> {
    this.handOvers += 1;
    await this.tap("form.reading input");
    await this.type(CODES[role]);
    await this.enter();
  }

  /** What the instrument of this step shows on a good day; stops where the page's band is not the rig's. */
  async measure(screen: string): Promise<void> {
    const step = /^step (\S+)/.exec(screen)?.[1];
    if (!this.#documents || step === undefined)
      throw new Error(`at which stand, and which step? "${screen}"`);
    const { weighed, poured, single, faultOf } = askedAt(this.#documents, step);
    const judged = this.page.locator(".judged");
    const stop = (fault: string): never => {
      throw new Error(`${screen}: ${fault}`);
    };
    const wrong = faultOf((await judged.innerText()).replace(/^Band: /, ""));
    if (wrong !== undefined) stop(wrong);
    const labelled = (label: string) => this.page.getByLabel(label).count();
    const byVessel = (await labelled("Water is at")) > 0;
    const byWeight = (await labelled("Without it")) > 0;
    const numbers = byVessel ? poured : byWeight ? weighed : single;
    await this.tap("form.reading input");
    for (const [at, number] of numbers.entries()) {
      await this.type(number);
      if (at === numbers.length - 1 && !(await judged.innerText()).includes("inside"))
        stop(`${numbers.join(", ")} is right, and the page says "${await judged.innerText()}"`);
      await this.enter();
    }
  }

  async approach(): Promise<void> {
    await this.page.locator(".people .button").first().waitFor({ timeout: 90_000 });
    await this.page.waitForTimeout(SETTLE_ms);
    await this.tapNamed("Installer");
    await this.page.waitForTimeout(SETTLE_ms);
    await this.pressHold();
  }

  /** Two people, a reason: from the hold's second page. */
  async clearHold(first: keyof typeof CODES, second: keyof typeof CODES): Promise<string> {
    await this.tap("form.reading input");
    await this.type(CODES[first]);
    await this.enter();
    await this.type(CODES[second]);
    await this.page.keyboard.press("Escape");
    await this.tapNamed("Put right and looked at");
    await this.page.waitForTimeout(SETTLE_ms);
    await this.tapNamed("Clear the hold");
    return this.screen();
  }

  /** Anything that can be said has happened, in two taps. */
  async report(words: string | RegExp): Promise<void> {
    await this.page.waitForTimeout(SETTLE_ms);
    await this.tapNamed("Say what happened");
    await this.page.waitForTimeout(SETTLE_ms);
    await this.tapNamed(words);
  }
}
