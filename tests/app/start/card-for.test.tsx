// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { WRITTEN } from "../../../app/demo/written.ts";
import { cardFor } from "../../../app/start/card-for.tsx";

afterEach(cleanup);
const cardOf = (...parts: string[]) => {
  const Card = cardFor(WRITTEN, parts, "#/");
  return render(<Card />).container.textContent ?? "";
};

test("a stand's paper card has the rig's own numbers, a planned shot's card has the shot's", () => {
  expect(cardOf("heron")).toMatch(/Fill the bottle with 600 g of water[\s\S]*to 3\.0 bar/);
  const planned = cardOf("heron", "0.45", "250000");
  expect(planned).toMatch(/Fill the bottle with 450 g of water[\s\S]*to 2\.5 bar/);
  expect(planned).not.toContain("3.0 bar");
});

test("no card is printed for a shot that cannot be run, or for numbers that are none", () => {
  for (const parts of [
    ["heron", "0.45", "510000"],
    ["heron", "much", "250000"],
  ])
    expect(cardOf(...parts)).toMatch(/^No card for this shot/);
});

test("for a stand that this device does not know there is no card, least of all another stand's", () => {
  const text = cardOf("kestrel");
  expect(text).toContain("This device knows no stand “kestrel”.");
  expect(text).not.toContain("Heron");
});
