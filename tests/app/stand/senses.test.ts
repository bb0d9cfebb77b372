// @vitest-environment happy-dom
import { afterEach, expect, it, vi } from "vitest";
import { feel, setMuted } from "../../../app/stand/senses.ts";

afterEach(() => setMuted(false));

it.each([false, true])("is felt by the hand, with the sound off: %s", (off) => {
  const vibrate = vi.fn();
  Object.assign(navigator, { vibrate });
  setMuted(off);
  feel("refused");
  expect(vibrate).toHaveBeenCalledExactlyOnceWith([90, 60, 90]);
});
