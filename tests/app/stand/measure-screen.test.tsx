// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { afterEach, describe, expect, it } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import type { RunView } from "../../../app/session/live-run.ts";
import { MeasureScreen } from "../../../app/stand/measure-screen.tsx";
import type { Turn } from "../../../app/stand/turn.ts";
import { findStep } from "../../../core/procedure/procedure.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { Walk } from "../../model/walk.ts";

afterEach(cleanup);

/** The page of one step, and what it has said. */
const pageOf = ({ rig, procedure }: typeof HERON, id: string): { readonly said: SequenceEvent[] } => {
  const said: SequenceEvent[] = [];
  const { snapshot } = new Walk(rig, procedure).to("filling");
  const now = { at: 0, mono: 0, session: "s", by: "C1" };
  const turn: Turn = {
    view: { rig, procedure, snapshot, code: "K-001-01" } as unknown as RunView,
    now,
    clock: () => now,
    say: async (event) => {
      said.push(event);
      return { kind: "accepted" };
    },
    show: () => {},
    page: "",
    turnTo: () => {},
    paged: false,
    estimate: undefined,
  };
  const step = findStep(procedure, id)?.step;
  if (step?.form.kind !== "measure") throw new Error(`${id} measures nothing`);
  render(<MeasureScreen turn={turn} step={step} form={step.form} />);
  return { said };
};

const type = (label: string, value: string): void => {
  fireEvent.input(screen.getByLabelText(label), { target: { value } });
};
const press = (name: string): void => {
  fireEvent.click(screen.getByRole("button", { name }));
};
const judged = (): string => document.querySelector(".judged")?.textContent ?? "";
const units = (): readonly (string | null)[] =>
  [...document.querySelectorAll(".field-unit")].map((unit) => unit.textContent);
const instrument = (): string => document.querySelector(".instrument")?.textContent.trim() ?? "";

describe("the fill on Heron, which has a scale", () => {
  it("is weighed in grams with its tare, beside the rig's band in grams", () => {
    const { said } = pageOf(HERON, "water");
    expect([instrument(), ...units()]).toEqual(["Scale", "g", "g"]);
    expect(judged()).toBe("Band: 590 to 610 g");
    type("With water", "648");
    type("Without it", "48");
    expect(judged()).toBe("600 g: inside 590 to 610 g");
    press("Write it down");
    const reading = { kind: "difference", gross: "648", tare: "48", unit: "g", instrument: "scale" };
    expect(said).toMatchObject([{ type: "step-done", step: "water", reading }]);
  });

  it("by vessel is judged by its mass at its temperature, and the log names the vessel", () => {
    const { said } = pageOf(HERON, "water");
    press("By vessel");
    expect([instrument(), ...units()]).toEqual(["Graduated vessel", "mL", "°C"]);
    type("Volume", "600");
    type("Water is at", "20");
    // 998.2 kg/m3 at 20 °C: 600 mL are 598.9 g, and 590 g are 591.1 mL.
    expect(judged()).toBe("598.9 g: inside 590 to 610 g (591.1 to 611.1 mL)");
    press("Write it down");
    const reading = { kind: "volume", typed: "600", unit: "mL", instrument: "graduated vessel" };
    expect(said).toMatchObject([{ reading }]);
  });
});

describe("the fill on Kingfisher, which has a graduated vessel", () => {
  it("begins with the vessel, beside the rig's band in grams and never in millions of anything", () => {
    const { said } = pageOf(KINGFISHER, "water");
    expect([instrument(), ...units()]).toEqual(["Graduated vessel", "mL", "°C"]);
    expect(judged()).toBe("Band: 440 to 460 g");
    type("Volume", "450");
    type("Water is at", "20");
    expect(judged()).toBe("449.2 g: inside 440 to 460 g (440.8 to 460.8 mL)");
    press("Write it down");
    const reading = { kind: "volume", typed: "450", unit: "mL", instrument: "graduated vessel" };
    expect(said).toMatchObject([{ reading }]);
  });

  it("weighed all the same is in grams, and the log names the scale", () => {
    const { said } = pageOf(KINGFISHER, "water");
    press("By weight");
    expect([instrument(), ...units()]).toEqual(["Scale", "g", "g"]);
    type("With water", "498");
    type("Without it", "48");
    expect(judged()).toBe("450 g: inside 440 to 460 g");
    press("Write it down");
    const reading = { kind: "difference", gross: "498", tare: "48", unit: "g", instrument: "scale" };
    expect(said).toMatchObject([{ reading }]);
  });

  it("a slipped point is seen to lie outside, and Enter alone does not write it down", () => {
    const { said } = pageOf(KINGFISHER, "water");
    type("Volume", "45.0");
    type("Water is at", "20");
    expect(judged()).toMatch(/^44\.92 g: OUTSIDE 440 to 460 g/);
    fireEvent.keyDown(screen.getByLabelText("Water is at"), { key: "Enter" });
    expect(said).toEqual([]);
  });
});

it.each([
  ["Heron", "supply-read", HERON, "Band: 4 to 8 bar"],
  ["Heron", "regulator", HERON, "Band: 2.9 to 3.1 bar"],
  ["Heron", "water-temperature", HERON, "Band: 0 to 40 °C"],
  ["Kingfisher", "supply-read", KINGFISHER, "Band: 400 to 700 kPa"],
  ["Kingfisher", "bottle-read", KINGFISHER, "Band: 240 to 260 kPa"],
  ["Kingfisher", "vent", KINGFISHER, "Band: at most 5 kPa"],
] as const)("on %s shows for %s the rig's own band, in the unit of its gauge", (_, step, documents, band) => {
  pageOf(documents, step);
  expect(judged()).toBe(band);
});
