import { useEffect, useState } from "preact/hooks";
import type { LiveRun, RunView } from "../session/live-run.ts";

/** What goes stale and what is waited for is drawn anew this often; nothing is decided by it. */
const REDRAW_ms = 500;

export const useView = (run: LiveRun): RunView => {
  const [, redraw] = useState(0);
  useEffect(() => {
    const again = () => redraw((n) => n + 1);
    const stop = run.subscribe(again);
    const timer = setInterval(again, REDRAW_ms);
    again();
    return () => {
      stop();
      clearInterval(timer);
    };
  }, [run]);
  return run.view();
};
