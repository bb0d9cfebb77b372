// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, expect, it } from "vitest";
import { GaugeDial } from "../../../app/widgets/gauge-dial.tsx";

afterEach(cleanup);

/** As drawings.css draws them; a bold digit is at most this wide in the widest of common sans faces. */
const TYPE_px = 15;
const LETTER_em = 0.7;
const HEIGHT_em = 0.75;

type Box = { readonly words: string; readonly x: number; readonly y: number; readonly width: number };

const wordsOn = (unit: "bar" | "kPa" | "psi", max_Pa: number): readonly Box[] => {
  const gauge = { id: "g", name: "gauge", place: "post", unit, range_Pa: { min: 0, max: max_Pa } };
  const { container } = render(
    <GaugeDial gauge={gauge as Parameters<typeof GaugeDial>[0]["gauge"]} typed="" />,
  );
  return [...container.querySelectorAll("text")].map((text) => ({
    words: text.textContent ?? "",
    x: Number(text.getAttribute("x")),
    y: Number(text.getAttribute("y")),
    width: (text.textContent ?? "").length * LETTER_em * TYPE_px,
  }));
};

const meet = (a: Box, b: Box): boolean =>
  Math.abs(a.x - b.x) < (a.width + b.width) / 2 && Math.abs(a.y - b.y) < HEIGHT_em * TYPE_px;

it.each([
  ["bar", 6e5],
  ["bar", 10e5],
  ["bar", 16e5],
  ["kPa", 4e5],
  ["kPa", 5e5],
  ["kPa", 6e5],
  ["kPa", 10e5],
  ["kPa", 16e5],
  ["psi", 60 * 6894.757],
  ["psi", 100 * 6894.757],
  ["psi", 150 * 6894.757],
] as const)(
  "draws a dial in %s up to %d Pa whose numbers keep clear of one another and of the unit",
  (unit, max_Pa) => {
    const boxes = wordsOn(unit, max_Pa);
    expect(boxes.length).toBeGreaterThan(3);
    const meeting = boxes.flatMap((a, i) =>
      boxes.slice(i + 1).flatMap((b) => (meet(a, b) ? [`${a.words} and ${b.words}`] : [])),
    );
    expect(meeting).toEqual([]);
  },
);
