import { describe, expect, test } from "vitest";
import { controlUpdates, takeOverLimit_ms, type UpdateWorld } from "../../../app/offline/update.ts";
import { runWriterLock, type UpdateState } from "../../../app/ports.ts";

/** One browser as the control sees it, with everything it did written down. */
class Browser implements UpdateWorld {
  runOpen = false;
  answersControllerChange = true;
  readonly did: string[] = [];
  private changed: (() => void) | undefined;

  readonly locks = {
    query: async () => ({ held: this.runOpen ? [{ name: runWriterLock }] : [], pending: [] }),
    request: async (name: string, options: LockOptions, work: (lock: Lock | null) => unknown) => {
      expect(options.ifAvailable).toBe(true);
      const result = await work(this.runOpen ? null : ({ name, mode: "exclusive" } as Lock));
      this.did.push("lock released");
      return result;
    },
  } as unknown as UpdateWorld["locks"];

  skipWaiting() {
    this.did.push("skip waiting");
    if (this.answersControllerChange) this.changed?.();
  }
  onControllerChange(listener: () => void) {
    this.changed = listener;
    return () => this.did.push("stopped listening");
  }
  async delay(ms: number) {
    if (this.answersControllerChange) return new Promise<void>(() => {});
    this.did.push(`waited ${ms} ms`);
  }
  reload() {
    this.did.push("reload");
  }
}

describe("an update", () => {
  test("is offered when no tab has a run open", async () => {
    const control = controlUpdates(new Browser());
    const seen: UpdateState[] = [];
    control.subscribe((state) => seen.push(state));
    await control.workerWaits();
    expect(seen).toEqual(["current", "ready"]);
  });

  test("stays out of sight while a run is open, and comes into sight when the run is over", async () => {
    const browser = new Browser();
    browser.runOpen = true;
    const control = controlUpdates(browser);
    await control.workerWaits();
    expect(control.state()).toBe("waits-for-run");
    browser.runOpen = false;
    await control.recheck();
    expect(control.state()).toBe("ready");
    browser.runOpen = true;
    await control.recheck();
    expect(control.state()).toBe("waits-for-run");
  });

  test("does nothing by itself", async () => {
    const browser = new Browser();
    const control = controlUpdates(browser);
    await control.workerWaits();
    await control.recheck();
    expect(browser.did).toEqual([]);
  });

  test("takes over on consent, then reloads once, and no run can open in between", async () => {
    const browser = new Browser();
    const control = controlUpdates(browser);
    await control.workerWaits();
    expect(await control.apply()).toBe("reloading");
    expect(browser.did).toEqual(["skip waiting", "stopped listening", "reload", "lock released"]);
  });

  test("reloads once after four seconds where the browser never says that the worker changed", async () => {
    const browser = new Browser();
    browser.answersControllerChange = false;
    const control = controlUpdates(browser);
    await control.workerWaits();
    expect(await control.apply()).toBe("reloading");
    expect(browser.did.filter((act) => act === "reload")).toHaveLength(1);
    expect(browser.did).toContain(`waited ${takeOverLimit_ms} ms`);
    expect(takeOverLimit_ms).toBe(4000);
  });

  test("is refused, and nothing is touched, when a run was opened after the button was shown", async () => {
    const browser = new Browser();
    const control = controlUpdates(browser);
    await control.workerWaits();
    browser.runOpen = true;
    expect(await control.apply()).toBe("run-open");
    expect(browser.did).toEqual(["lock released"]);
    expect(control.state()).toBe("waits-for-run");
  });

  test("cannot be applied when there is none", async () => {
    const browser = new Browser();
    expect(await controlUpdates(browser).apply()).toBe("nothing-waiting");
    expect(browser.did).toEqual([]);
  });
});

describe("a tab that another tab's update left behind", () => {
  test("says so and reloads on consent only", async () => {
    const browser = new Browser();
    const control = controlUpdates(browser);
    control.replacedElsewhere();
    await control.workerWaits();
    expect(control.state()).toBe("replaced");
    expect(browser.did).toEqual([]);
    expect(await control.apply()).toBe("reloading");
    expect(browser.did).toEqual(["reload"]);
  });
});

test("a listener that left hears nothing more", async () => {
  const control = controlUpdates(new Browser());
  const seen: UpdateState[] = [];
  control.subscribe((state) => seen.push(state))();
  await control.workerWaits();
  expect(seen).toEqual(["current"]);
});
