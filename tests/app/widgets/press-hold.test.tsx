// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { PRESS_ms, PressHold } from "../../../app/widgets/press-hold.tsx";

const confirm = vi.fn();
const choose = vi.fn();

beforeEach(() => {
  confirm.mockReset();
  choose.mockReset();
});
afterEach(cleanup);

const show = (chosen = false): HTMLElement => {
  render(<PressHold act="Air on" onConfirm={confirm} chosen={chosen} onChoose={choose} />);
  const button = screen.queryByRole("button", { name: /^Press and hold/ });
  if (button) Object.assign(button, { setPointerCapture: () => {} });
  return button as HTMLElement;
};

type Finger = { readonly at_ms: number; readonly x?: number; readonly id?: number };

const point = (button: HTMLElement, type: string, { at_ms, x = 0, id = 1 }: Finger): void => {
  const event = new Event(type, { bubbles: true });
  Object.assign(event, { pointerId: id, clientX: x, clientY: 0, button: 0 });
  Object.defineProperty(event, "timeStamp", { value: at_ms });
  fireEvent(button, event);
};

it("fires when it is lifted after it was full, by the stamps of the two events", () => {
  const button = show();
  point(button, "pointerdown", { at_ms: 1000 });
  expect(confirm).not.toHaveBeenCalled();
  point(button, "pointerup", { at_ms: 1000 + PRESS_ms });
  expect(confirm).toHaveBeenCalledOnce();
});

it("holds between 1.0 and 1.5 s", () => {
  expect(PRESS_ms).toBeGreaterThanOrEqual(1000);
  expect(PRESS_ms).toBeLessThanOrEqual(1500);
});

it("does nothing when it is lifted early", () => {
  const button = show();
  point(button, "pointerdown", { at_ms: 1000 });
  point(button, "pointerup", { at_ms: 999 + PRESS_ms });
  expect(confirm).not.toHaveBeenCalled();
});

it.each([
  ["a slide of more than 24 px", (b: HTMLElement) => point(b, "pointermove", { at_ms: 1500, x: 25 })],
  ["a cancelled pointer", (b: HTMLElement) => point(b, "pointercancel", { at_ms: 1500 })],
  ["a second finger", (b: HTMLElement) => point(b, "pointerdown", { at_ms: 1500, id: 2 })],
  ["the window losing the focus", () => window.dispatchEvent(new Event("blur"))],
  ["the page going out of sight", () => document.dispatchEvent(new Event("visibilitychange"))],
])("is cancelled by %s", (_what, happen) => {
  const button = show();
  point(button, "pointerdown", { at_ms: 1000 });
  happen(button);
  point(button, "pointerup", { at_ms: 1000 + PRESS_ms });
  expect(confirm).not.toHaveBeenCalled();
});

it("does not fire by a click alone, so that no tap can do what a press must", () => {
  fireEvent.click(show());
  expect(confirm).not.toHaveBeenCalled();
});

it("has a way without holding: chosen, then confirmed by another button, or not now", () => {
  show();
  fireEvent.click(screen.getByRole("button", { name: /in two taps, without holding/ }));
  expect(choose).toHaveBeenCalledWith(true);
  cleanup();
  show(true);
  fireEvent.click(screen.getByRole("button", { name: "Not now" }));
  expect(choose).toHaveBeenLastCalledWith(false);
  fireEvent.click(screen.getByRole("button", { name: "Confirm: Air on" }));
  expect(confirm).toHaveBeenCalledOnce();
});
