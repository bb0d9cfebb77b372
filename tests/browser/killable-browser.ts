import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { type Browser, chromium } from "playwright-core";
import { findBrowser } from "./find-browser.ts";
import { browserFlags } from "./open-browser.ts";

/** A browser process of our own, by its pid: so that it can be killed as a phone kills it, without a word. */
export type KillableBrowser = {
  readonly browser: Browser;
  /** SIGKILL to the process and all that it started; resolves when it is gone. */
  readonly kill: () => Promise<void>;
};

const ADDRESS = /DevTools listening on (ws:\/\/\S+)/;

const addressOf = (child: ChildProcess): Promise<string> =>
  new Promise((resolve, reject) => {
    let said = "";
    child.stderr?.on("data", (chunk: Buffer) => {
      said += chunk.toString();
      const address = ADDRESS.exec(said)?.[1];
      if (address) resolve(address);
    });
    child.on("exit", () => reject(new Error(`the browser ended before it listened: ${said.slice(-400)}`)));
  });

/** @param profile  a folder that outlives the process */
export const openKillable = async (profile: string): Promise<KillableBrowser> => {
  const flags = [
    "--headless=new",
    "--remote-debugging-port=0",
    `--user-data-dir=${profile}`,
    "--no-default-browser-check",
  ];
  const child = spawn(await findBrowser(), [...browserFlags, ...flags, "about:blank"], {
    // A group of its own, so that one signal reaches every process of this browser and no other.
    detached: true,
    stdio: ["ignore", "ignore", "pipe"],
  });
  const { pid } = child;
  if (pid === undefined) throw new Error("the browser could not be started");
  const gone = once(child, "exit");
  const kill = async (): Promise<void> => {
    if (child.exitCode === null && child.signalCode === null) process.kill(-pid, "SIGKILL");
    await gone;
  };
  try {
    const browser = await chromium.connectOverCDP(await addressOf(child));
    return { browser, kill };
  } catch (fault) {
    await kill();
    throw fault;
  }
};
