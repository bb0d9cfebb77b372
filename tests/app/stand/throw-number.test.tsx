// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, expect, it } from "vitest";
import { ThrowNumber } from "../../../app/stand/throw-number.tsx";

afterEach(cleanup);

const wordsOf = (speed_m_s: number, height_m: number, heightBound_m: number): string | null => {
  const estimate = { speed_m_s, height_m, heightBound_m, rangeBound_m: 2 * heightBound_m };
  return render(<ThrowNumber estimate={estimate} />).container.textContent;
};

it("says what to expect and the bound, height and range, to two digits whatever their size", () => {
  expect(wordsOf(7.8, 3.72, 7.6)).toBe(
    "If nothing holds: about 7.8 m/s, 3.7 m up or 7.4 m away. Bound: 7.6 m up, 15 m away. No drag.",
  );
  expect(wordsOf(1.13, 0.18, 0.33)).toContain("0.18 m up or 0.36 m away");
});

it("says nothing where the rig does not give its riding mass", () => {
  expect(render(<ThrowNumber estimate={undefined} />).container.textContent).toBe("");
});
