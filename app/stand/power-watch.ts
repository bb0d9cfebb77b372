import { useEffect } from "preact/hooks";
import type { LiveRun } from "../session/live-run.ts";

/** SAFETY A48: from here on the paper card is at hand. */
const LOW = 0.15;

type Battery = EventTarget & { readonly level: number; readonly charging: boolean };
type WithBattery = { readonly getBattery?: () => Promise<Battery> };

/** A battery that runs low under a run is a fact of it, said once. Only Chromium has one to read. */
export const usePowerWatch = (run: LiveRun): void => {
  useEffect(() => {
    let said = false;
    let stop = () => {};
    const look = (battery: Battery) => {
      if (said || battery.charging || battery.level > LOW) return;
      said = true;
      void run.send({ type: "power-low", percent: Math.round(battery.level * 100) });
    };
    void (navigator as WithBattery).getBattery?.().then((battery) => {
      const changed = () => look(battery);
      battery.addEventListener("levelchange", changed);
      stop = () => battery.removeEventListener("levelchange", changed);
      look(battery);
    });
    return () => stop();
  }, [run]);
};
