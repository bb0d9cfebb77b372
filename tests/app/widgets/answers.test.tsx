// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { afterEach, expect, it, vi } from "vitest";
import { Answers } from "../../../app/widgets/answers.tsx";

afterEach(cleanup);

const ANSWERS = [
  { id: "home", text: "Fully home", good: true },
  { id: "part", text: "Part closed", good: false },
  { id: "open", text: "Open", good: false },
] as const;

it("keeps what leads on apart from the findings, whatever their order in the list", () => {
  const { container } = render(<Answers answers={ANSWERS} onAnswer={() => {}} />);
  const words = (part: string) => [...container.querySelectorAll(`${part} button`)].map((b) => b.textContent);
  expect(words(".answers-found")).toEqual(["Part closed", "Open"]);
  expect(words(".answers-good")).toEqual(["Fully home"]);
});

it("gives the answer that was tapped, in one tap", () => {
  const onAnswer = vi.fn();
  render(<Answers answers={ANSWERS} onAnswer={onAnswer} />);
  fireEvent.click(screen.getByRole("button", { name: "Open" }));
  expect(onAnswer).toHaveBeenCalledExactlyOnceWith("open", expect.anything());
});

it("draws every answer alike: none is lit, none is filled in", () => {
  const { container } = render(<Answers answers={ANSWERS} onAnswer={() => {}} />);
  expect(new Set([...container.querySelectorAll("button")].map((b) => b.className)).size).toBe(1);
});
