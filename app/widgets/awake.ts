import { useEffect, useState } from "preact/hooks";

export type Awake = "awake" | "may-sleep";

/** Keeps the screen on while this is shown; the browser lets go whenever the page is hidden, so it is asked again. */
export const useAwake = (): Awake => {
  const [awake, setAwake] = useState<Awake>("may-sleep");
  useEffect(() => {
    let lock: WakeLockSentinel | undefined;
    let over = false;
    const ask = async () => {
      if (over || document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
      try {
        lock = await navigator.wakeLock.request("screen");
        lock.addEventListener("release", () => setAwake("may-sleep"));
        setAwake("awake");
      } catch {
        setAwake("may-sleep"); // refused on a low battery: the screen says that it may sleep
      }
    };
    void ask();
    document.addEventListener("visibilitychange", ask);
    return () => {
      over = true;
      document.removeEventListener("visibilitychange", ask);
      void lock?.release();
    };
  }, []);
  return awake;
};
